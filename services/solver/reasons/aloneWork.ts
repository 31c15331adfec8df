import { gearOf } from "../../../shared/fieldwork/flow.ts";
import { workTimeOn } from "../../../shared/fieldwork/workTime.ts";
import type { AircraftType, Charger, Tender } from "../../../shared/model/fleet.ts";
import { groundOf, outfitInput } from "../compileWork.ts";
import type { Problem } from "../problem.ts";

/** What is out of the way of the work of one type. */
export interface Eased {
  readonly rate: boolean;
  readonly range: boolean;
  readonly method: boolean;
  readonly water: boolean;
  readonly tender: boolean;
  readonly sets: boolean;
  readonly chargers: boolean;
}

export const nothingEased: Eased = {
  rate: false,
  range: false,
  method: false,
  water: false,
  tender: false,
  sets: false,
  chargers: false,
};

/** The work of a block from one of its pads. */
export interface Way {
  readonly minutes: number;
  readonly place: number;
}

export interface AloneWork {
  /** What the best outfits of so many aircraft take that a base could send, one for every tender. */
  ways(base: number, type: number, count: number, eased: Eased): readonly Way[];
}

/** Out of the way means as much as an operation may say, and of battery sets enough for a day. */
const plenty = {
  flowPerMin: 2000,
  generatorKw: 500,
  bays: 50,
  kw: 500,
  sets: 40,
  pumpLPerMin: 2000,
  loadingPoints: 10,
};
const longestMin = { battery: 240, fuel: 600 } as const;

/** `waterL` is what the tender must carry for it in one go. */
export function createAloneWork(problem: Problem, block: number, waterL: number): AloneWork {
  const known = new Map<string, readonly Way[]>();
  return {
    ways: (base, type, count, eased) => {
      const key = [base, type, count, ...Object.values(eased).map(Number)].join(" ");
      const before = known.get(key);
      if (before !== undefined) return before;
      const found = waysOf(problem, block, waterL, base, type, count, eased);
      known.set(key, found);
      return found;
    },
  };
}

function waysOf(
  problem: Problem,
  block: number,
  needL: number,
  base: number,
  type: number,
  count: number,
  eased: Eased,
): Way[] {
  const { equipment, operation } = problem;
  const { fleet } = operation;
  const { transportSlots, power } = problem.types[type]!;
  const isFed = power.source === "battery";
  const stock = isFed ? equipment.stock[base * problem.types.length + type]! : 0;
  const sets = isFed && eased.sets ? Math.max(stock, plenty.sets) : stock;
  const chargers = isFed ? fleet.chargers.filter((_, at) => equipment.chargerBase[at] === base) : [];
  const tenders = fleet.tenders.flatMap((tender, index) =>
    equipment.tenderBase[index] === base ? [{ tender, index }] : [],
  );
  const ways = tenders.map(({ tender, index }) => {
    if (needL > tender.waterL && !eased.water) return null;
    const carried = eased.tender || transportSlots === 0 ? count : Math.floor(tender.transportSlots / transportSlots);
    const most = Math.min(count, carried, isFed ? sets : count);
    if (most === 0) return null;
    const isPlain = !eased.rate && !eased.range && !eased.method && !(isFed && (eased.sets || eased.chargers));
    return isPlain ? plainWay(problem, block, base, type, most, index) : way(most, tender);
  });
  if (eased.tender) ways.push(way(isFed ? Math.min(count, sets) : count, plentyOfTender(fleet.tenders, needL, eased)));
  return ways.filter((found) => found !== null);

  function way(most: number, tender: Tender | null): Way | null {
    return most === 0 || tender === null ? null : easedWay(problem, block, type, most, sets, chargers, tender, eased);
  }
}

/** With the base's own things, as the search asks for it. */
function plainWay(
  problem: Problem,
  block: number,
  base: number,
  type: number,
  count: number,
  tender: number,
): Way | null {
  const { equipment, operation } = problem;
  const isFed = problem.types[type]!.power.source === "battery";
  const signature = problem.signatures.of({
    option: { type, count },
    sets: isFed ? equipment.stock[base * problem.types.length + type]! : 0,
    chargers: isFed
      ? operation.fleet.chargers.map((_, index) => index).filter((index) => equipment.chargerBase[index] === base)
      : [],
    tender,
  });
  const minutes = problem.work.minutes(block, signature);
  return minutes === 0 ? null : { minutes, place: problem.work.place(block, signature) };
}

/** A truck as large as the largest, or as the block needs. */
function plentyOfTender(tenders: readonly Tender[], needL: number, { water }: Eased): Tender | null {
  const largest = tenders.reduce<Tender | null>(
    (most, tender) => (most === null || tender.waterL > most.waterL ? tender : most),
    null,
  );
  return largest === null || (needL > largest.waterL && !water) ? null : largest;
}

function easedWay(
  problem: Problem,
  block: number,
  typeIndex: number,
  count: number,
  sets: number,
  chargers: readonly Charger[],
  tender: Tender,
  eased: Eased,
): Way | null {
  const { area, order: orderIndex, field } = problem.blocks[block]!;
  const order = problem.orders[orderIndex]!;
  const type = easedType(problem.types[typeIndex]!, order.liquid ? "liquid" : "granular", eased);
  const { bays, kw, generatorKw, pumpLPerMin, loadingPoints } = plenty;
  const isFed = type.power.source === "battery";
  const input = outfitInput(
    {
      option: { type: typeIndex, count },
      alike: 0,
      type,
      sets,
      chargers: isFed && eased.chargers ? [{ ...(chargers[0] ?? noCharger), bays, kw }] : chargers,
      tender: {
        ...tender,
        generatorKw: eased.chargers ? generatorKw : tender.generatorKw,
        ...(eased.tender ? { pumpLPerMin, mixLPerMin: pumpLPerMin, loadingPoints } : {}),
      },
      charge: null,
    },
    order,
  );
  const gear = gearOf(type, input.method, input.densityKgPerL);
  if (gear === undefined) return null;
  const outcome = workTimeOn(groundOf(problem.operation, { area, order }, type, gear), input);
  if (!outcome.ok) return null;
  const { id, pads } = problem.operation.fields.features[field]!.properties;
  const place = problem.places.indexOf(`${id}/${pads[outcome.padIndex]!.id}`);
  return { minutes: outcome.minutes, place };
}

const noCharger = { id: "none" as Charger["id"], baseId: "none" as Charger["baseId"] };

function easedType(type: AircraftType, method: "liquid" | "granular", { rate, range, method: isGeared }: Eased) {
  const eased = { ...type };
  if (isGeared && type[method] === undefined) {
    const speeds = { swathM: 6, speedMinMps: 2, speedMaxMps: type.ferrySpeedMps };
    if (method === "liquid")
      eased.liquid = { ...speeds, tankL: type.payloadKg, flowMaxLPerMin: 2000, dropletMinUm: 1, dropletMaxUm: 2000 };
    else eased.granular = { ...speeds, hopperKg: type.payloadKg, hopperL: 5000, spreadMaxKgPerMin: 5000 };
  }
  if (rate && eased.liquid !== undefined) eased.liquid = { ...eased.liquid, flowMaxLPerMin: plenty.flowPerMin };
  if (rate && eased.granular !== undefined)
    eased.granular = { ...eased.granular, spreadMaxKgPerMin: plenty.flowPerMin };
  if (range) {
    eased.power = { ...type.power, enduranceMin: longestMin[type.power.source], reserveFrac: 0 };
  }
  return eased;
}
