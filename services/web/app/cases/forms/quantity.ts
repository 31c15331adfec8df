import {
  acresFromHa,
  ftFromM,
  gallonsFromL,
  kphFromMps,
  lbFromKg,
  milesFromKm,
  mphFromKph,
} from "../../../../../shared/units/units.ts";

/** How a number of a form is shown: `shown` times `per` is what is stored under the unit of its name. */
interface Measure {
  readonly unit: string;
  readonly per: number;
}

interface Both {
  readonly metric: Measure;
  readonly us: Measure;
}

/** As units/units.ts has them; that file knows the browser, this one need not. */
export type System = keyof Both;

const centsPerUnit = 100;
const alike = (unit: string, per = 1): Both => ({ metric: { unit, per }, us: { unit, per } });
const either = (metric: string, us: string, usPerMetric: number, per = 1): Both => ({
  metric: { unit: metric, per },
  us: { unit: us, per: per / usPerMetric },
});
/** MONEY stands for the currency of the operation. */
const money = "MONEY";
const moneyPer = (metric: string, us: string, usPerMetric: number): Both => ({
  metric: { unit: `${money}/${metric}`, per: centsPerUnit },
  us: { unit: `${money}/${us}`, per: centsPerUnit * usPerMetric },
});

const measures = {
  count: alike(""),
  factor: alike("times"),
  volumeL: either("L", "gal", gallonsFromL(1)),
  flowLPerMin: either("L/min", "gal/min", gallonsFromL(1)),
  massKg: either("kg", "lb", lbFromKg(1)),
  flowKgPerMin: either("kg/min", "lb/min", lbFromKg(1)),
  lengthM: either("m", "ft", ftFromM(1)),
  speedMps: either("m/s", "mph", mphFromKph(kphFromMps(1))),
  windKph: either("km/h", "mph", mphFromKph(1)),
  areaHa: either("ha", "ac", acresFromHa(1)),
  rainMm: either("mm", "in", ftFromM(1 / 1000) * 12),
  deltaC: either("°C", "°F", 1.8),
  dropletUm: alike("µm"),
  angleDeg: alike("°"),
  timeMin: alike("min"),
  timeS: alike("s"),
  timeHours: alike("h"),
  timeYears: alike("years"),
  powerKw: alike("kW"),
  sharePct: alike("%"),
  shareFrac: alike("%", 1 / 100),
  moneyCents: alike(money, centsPerUnit),
  moneyCentsPerHour: alike(`${money}/h`, centsPerUnit),
  moneyCentsPerYear: alike(`${money} a year`, centsPerUnit),
  moneyCentsPerKm: moneyPer("km", "mi", milesFromKm(1)),
  moneyCentsPerHa: moneyPer("ha", "ac", acresFromHa(1)),
} satisfies Record<string, Both>;

export type Quantity = keyof typeof measures;

export function unitOf(quantity: Quantity, system: System, currency: string): string {
  return measures[quantity][system].unit.replace(money, currency);
}

/** Few enough digits that what is converted there and back is what it was. */
const exact = (value: number, digits: number) => Number(value.toPrecision(digits));

export function shownOf(quantity: Quantity, system: System, value: number): number {
  return exact(value / measures[quantity][system].per, 6);
}

export function storedOf(quantity: Quantity, system: System, shown: number): number {
  return exact(shown * measures[quantity][system].per, 9);
}

/** What somebody types: a number with a point or a comma; nothing where nothing stands; else the text itself, for the server to refuse. */
export function typedNumber(text: string): number | string | undefined {
  const plain = text.trim().replace(",", ".").replace("−", "-");
  if (plain === "") return undefined;
  return /^[-+]?(\d+[.]?\d*|[.]\d+)$/.test(plain) ? Number(plain) : text;
}
