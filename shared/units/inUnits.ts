import {
  acresFromHa,
  fahrenheitFromC,
  ftFromM,
  gallonsFromL,
  gallonsPerAcreFromLPerHa,
  kphFromMps,
  lbFromKg,
  milesFromKm,
  mphFromKph,
  type UnitSystem,
} from "./units.ts";

interface Conversion {
  readonly unit: string;
  readonly decimals: number;
  readonly from: (value: number) => number;
}

const perAcre = (perHa: number) => perHa / acresFromHa(1);
const inchesFromMm = (lengthMm: number) => ftFromM(lengthMm / 1000) * 12;

const conversions: Readonly<Record<string, Conversion>> = {
  "km/h": { unit: "mph", decimals: 1, from: mphFromKph },
  "m/s": { unit: "mph", decimals: 1, from: (speedMps) => mphFromKph(kphFromMps(speedMps)) },
  "°C": { unit: "°F", decimals: 1, from: fahrenheitFromC },
  mm: { unit: "in", decimals: 2, from: inchesFromMm },
  ha: { unit: "ac", decimals: 1, from: acresFromHa },
  "ha/h": { unit: "ac/h", decimals: 1, from: acresFromHa },
  km: { unit: "mi", decimals: 1, from: milesFromKm },
  m: { unit: "ft", decimals: 0, from: ftFromM },
  "L/ha": { unit: "gal/ac", decimals: 2, from: gallonsPerAcreFromLPerHa },
  "kg/ha": { unit: "lb/ac", decimals: 1, from: (rateKgPerHa) => perAcre(lbFromKg(rateKgPerHa)) },
  "L/min": { unit: "gal/min", decimals: 2, from: gallonsFromL },
  "kg/min": { unit: "lb/min", decimals: 1, from: lbFromKg },
  L: { unit: "gal", decimals: 1, from: gallonsFromL },
  kg: { unit: "lb", decimals: 1, from: lbFromKg },
};
/** Delta T is a difference, which has no zero of its own. */
const difference: Conversion = {
  unit: "°F",
  decimals: 1,
  from: (value) => fahrenheitFromC(value) - fahrenheitFromC(0),
};

const quantities =
  /(?<![\w.,-])(-?\d+(?:\.\d+)?)(?: (to|and|or|of) (-?\d+(?:\.\d+)?))? (km\/h|m\/s|°C|mm|ha\/h|ha|km|m|L\/ha|kg\/ha|L\/min|kg\/min|L|kg)(?![\w/])/g;

type Rounded = (value: number) => number;
interface Figure {
  readonly value: number;
  readonly rounded: Rounded;
}
/** Rounding that the conversion itself makes. */
const slack = 1e-9;
const down: Rounded = (value) => Math.floor(value + slack);
const up: Rounded = (value) => Math.ceil(value - slack);

/** Our choice: beyond these nothing more is told apart. */
const mostDecimals = 4;

/**
 * A sentence that is worded in metric units, in the units of whoever reads: planner, agronomy and checker know metric units only, and what a plan says of itself
 * was worded when it was made. A limit is rounded to its strict side, as on papers, and two figures that differ are told so exactly that they still do.
 */
export function inUnits(sentence: string, { system }: { readonly system: UnitSystem }): string {
  if (system === "metric") return sentence;
  const found = [...sentence.matchAll(quantities)].map((match) => {
    const rounded = roundingOf(sentence.slice(0, match.index));
    const texts = [match[1], match[3]].filter((text) => text !== undefined);
    return {
      match,
      conversion: conversionOf(sentence, match),
      figures: texts.map((text, at) => ({
        value: Number(text),
        // Of a range that is allowed the lower end is a limit, too.
        rounded: rounded === down && at === 0 && match[2] === "to" ? up : rounded,
      })),
    };
  });
  return found.reduceRight((text, { match, conversion, figures }) => {
    const alike = found.filter((other) => other.conversion === conversion).flatMap((other) => other.figures);
    const decimals = decimalsFor(conversion, alike);
    const [first, second] = figures.map((one) => words(conversion, one, decimals));
    const both = second === undefined ? first : `${first} ${match[2]} ${second}`;
    return `${text.slice(0, match.index)}${both} ${conversion.unit}${text.slice(match.index + match[0].length)}`;
  }, sentence);
}

function conversionOf(sentence: string, match: RegExpExecArray): Conversion {
  const unit = match[4]!;
  if (unit !== "°C") return conversions[unit]!;
  const before = sentence.slice(0, match.index);
  const after = sentence.slice(match.index + match[0].length);
  const isOfDelta =
    before.lastIndexOf("Delta T") > Math.max(before.lastIndexOf("temperature"), before.lastIndexOf("inversion"));
  return isOfDelta || /^ (warmer|colder)/.test(after) ? difference : conversions[unit]!;
}

function roundingOf(before: string): Rounded {
  if (/\b(allows?|can put out|from) $/.test(before)) return down;
  return /\bwants?( at least)? $/.test(before) ? up : Math.round;
}

/** As few as keep apart what is apart, and nothing from nought. */
function decimalsFor(conversion: Conversion, figures: readonly Figure[]): number {
  const apart = new Set(figures.map(({ value }) => value)).size;
  for (let { decimals } = conversion; decimals < mostDecimals; decimals++) {
    const told = figures.map((one) => words(conversion, one, decimals));
    if (new Set(told).size >= apart && told.every((text, one) => text !== "0" || figures[one]!.value === 0))
      return decimals;
  }
  return mostDecimals;
}

function words({ from }: Conversion, { value, rounded }: Figure, decimals: number): string {
  const scale = 10 ** decimals;
  // Without the sign of a nought.
  return String(rounded(from(value) * scale) / scale + 0);
}
