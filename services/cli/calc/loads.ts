import { fullTankL } from "../../../shared/fieldwork/flow.ts";
import { loadsFewest, productInLoad } from "../../../shared/fieldwork/loads.ts";
import { textTable, wrapped } from "../../../shared/plan/textTable.ts";
import { BadInput, exitCodes, print, printJson } from "../output.ts";
import { counted, figureWords } from "./words.ts";

const loadLaw = "loads = area x rate / full load, rounded up; a load covers load / rate hectares";
const productLaw = "product in a load = load x product per hectare / rate (extension texts on mixing)";
const evenly = "as plans share it out";
const waterKgPerL = 1;

export interface LoadsOptions {
  readonly area: number;
  readonly rate: number;
  readonly tank: number;
  readonly density?: number;
  readonly payload?: number;
  readonly dose?: number;
  readonly granules?: boolean;
  readonly json?: boolean;
}

export async function loadsVerb(options: LoadsOptions): Promise<number> {
  const { area, rate, tank, density = waterKgPerL, payload, dose, granules, json } = options;
  refuseIdleDensity(options);
  // A hopper's load is in kilograms as it is, so its payload counts one to one.
  const kgPerUnit = granules ? 1 : density;
  const fullLoad = payload === undefined ? tank : fullTankL(tank, payload, kgPerUnit);
  const amount = area * rate;
  const loads = loadsFewest(amount, fullLoad);
  const facts = (load: number) => ({
    size: load,
    areaHa: load / rate,
    ...(dose === undefined ? {} : { product: productInLoad(load, dose, rate) }),
  });
  const full = facts(fullLoad);
  const even = facts(amount / loads);
  const last = facts(amount - (loads - 1) * fullLoad);
  const unit = granules ? "kg" : "L";
  const limitedBy = fullLoad < tank ? "payload" : "tank";
  if (json) {
    printJson({
      unit,
      areaHa: area,
      ratePerHa: rate,
      amount,
      loads,
      fullLoad: full,
      fullLoadLimitedBy: limitedBy,
      ...(payload === undefined ? {} : { payloadKg: payload, ...(granules ? {} : { densityKgPerL: density }) }),
      evenedOut: even,
      filledUp: { fullLoads: loads - 1, lastLoad: last },
      ...(dose === undefined ? {} : { productPerHa: dose, productInAll: area * dose }),
      laws: dose === undefined ? [loadLaw] : [loadLaw, productLaw],
    });
    return exitCodes.good;
  }
  const container = granules ? "hopper" : "tank";
  const payloadWords = granules ? `${payload} kg` : `${payload} kg at ${density} kg/L`;
  const fullWords = limitedBy === "tank" ? `as the ${container} holds` : `as the payload allows: ${payloadWords}`;
  const row = (name: string, count: number, load: typeof full, remarks: string) => [
    name,
    count === 0 ? "" : `${count} x`,
    `${figureWords(load.size)} ${unit}`,
    `${figureWords(load.areaHa)} ha`,
    ...(load.product === undefined ? [] : [`${figureWords(load.product)} product`]),
    remarks,
  ];
  const rows = [row("a full load", 0, full, fullWords), row("evened out", loads, even, evenly)];
  if (loads > 1) rows.push(row("filled up", loads - 1, full, ""), row("and the last", 1, last, ""));
  print(
    `${counted(loads, ["load", "loads"])} for ${figureWords(amount)} ${unit}: ${figureWords(area)} ha at ${rate} ${unit}/ha`,
  );
  if (dose !== undefined) print(`${figureWords(area * dose)} product in all, in the unit of --dose`);
  for (const line of textTable(rows, { indent: 0, right: [1, 2, 3, 4].slice(0, dose === undefined ? 3 : 4) })) {
    print(line.trimEnd());
  }
  for (const law of dose === undefined ? [loadLaw] : [loadLaw, productLaw]) {
    for (const line of wrapped(`Law: ${law}.`, 0)) print(line);
  }
  return exitCodes.good;
}

function refuseIdleDensity({ density, payload, granules }: LoadsOptions): void {
  if (density === undefined) return;
  if (granules) throw new BadInput([`--density: ${density}; expected none with --granules, whose tank is in kg`]);
  if (payload === undefined)
    throw new BadInput([`--density: ${density}; expected --payload, too: nothing else uses it`]);
}
