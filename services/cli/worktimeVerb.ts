import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import type { WorkOutcome } from "../../shared/fieldwork/workTime.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { textTable } from "../../shared/plan/textTable.ts";
import { compileEquipment, compileOptions } from "../solver/compileCrews.ts";
import { compileOrders } from "../solver/compileOrders.ts";
import { compileTravel } from "../solver/compileTravel.ts";
import { bestSignaturesOf, createSignatures } from "../solver/compileWork.ts";
import type { Equipment, Signature, Signatures } from "../solver/problem.ts";
import { createWorkTable } from "../solver/workTable.ts";
import { BadInput, exitCodes, loadScenario, named, print, printJson } from "./output.ts";

export interface WorktimeOptions {
  readonly order: string;
  /** Ids of aircraft, chargers and one tender, parted by commas. */
  readonly outfit?: string;
  readonly json?: boolean;
}

export async function worktimeVerb(dir: string, options: WorktimeOptions): Promise<number> {
  const operation = await loadScenario(dir);
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const order = named(operation.orders, "order", options.order);
  const treated = agronomy.treatedArea(order);
  if (treated.areaHa === 0) {
    throw new BadInput([
      `order ${order.id}: buffers leave nothing of its ${treated.fieldHa.toFixed(2)} ha; expected ground to work`,
    ]);
  }
  const { orders } = compileOrders(operation, calendar, (each) => agronomy.treatedArea(each).plane);
  const equipment = compileEquipment(operation, calendar);
  const signatures = createSignatures(operation);
  const compiled = orders[operation.orders.indexOf(order)]!;
  const work = createWorkTable(operation, signatures, [
    { area: treated.area, order: compiled, padPlaces: compileTravel(operation).padPlaces[compiled.field]! },
  ]);
  const possible = everyOutfit(operation, equipment, signatures);
  const chosen =
    options.outfit === undefined ? undefined : outfitOf(operation, equipment, signatures, options.outfit.split(","));

  const rows = possible
    .map((signature) => ({ signature, outcome: work.outcome(0, signature) }))
    .sort((a, b) => minutesOf(a.outcome) - minutesOf(b.outcome));
  const main = chosen === undefined ? rows[0] : { signature: chosen, outcome: work.outcome(0, chosen) };
  if (main === undefined) throw new BadInput([`order ${order.id}: no crew of ${dir} can form an outfit`]);
  const { areaHa, fieldHa } = treated;
  if (options.json) {
    printJson({
      orderId: order.id,
      areaHa,
      fieldHa,
      outfit: { ...words(signatures.at(main.signature)), outcome: facts(main.outcome) },
      others: rows.map(({ signature, outcome }) => ({ ...words(signatures.at(signature)), outcome: facts(outcome) })),
    });
  } else {
    const unit = compiled.liquid ? "L" : "kg";
    print(
      `${order.id} on ${order.fieldId}: ${areaHa.toFixed(2)} of ${fieldHa.toFixed(2)} ha at ${compiled.ratePerHa} ${unit}/ha`,
    );
    for (const line of outcomeLines(signatures.at(main.signature), main.outcome, unit)) print(line);
    print("\nevery outfit that a crew's base could send");
    const body = rows.map(({ signature, outcome }) => tableRow(signatures.at(signature), outcome));
    for (const line of textTable([tableHead, ...body], { indent: 2, right: [1, 2, 3, 4, 5, 6] })) print(line);
  }
  return main.outcome.ok ? exitCodes.good : exitCodes.answerIsNo;
}

function minutesOf(outcome: WorkOutcome): number {
  return outcome.ok ? outcome.minutes : Number.POSITIVE_INFINITY;
}

function everyOutfit(operation: Operation, equipment: Equipment, signatures: Signatures): number[] {
  const found = new Set<number>();
  for (const crew of operation.fleet.crews) {
    const base = operation.settings.bases.findIndex(({ id }) => id === crew.baseId);
    for (const option of compileOptions(operation, crew)) {
      for (const signature of bestSignaturesOf(operation, equipment, signatures, base, option)) found.add(signature);
    }
  }
  return [...found];
}

/** The outfit that the ids name; battery sets are the base's fair share, as in a plan. */
function outfitOf(operation: Operation, equipment: Equipment, signatures: Signatures, ids: readonly string[]): number {
  const { fleet, settings } = operation;
  const indicesIn = (list: readonly { readonly id: string }[]) =>
    ids.map((id) => list.findIndex((item) => item.id === id)).filter((index) => index >= 0);
  const aircraft = indicesIn(fleet.aircraft);
  const chargers = indicesIn(fleet.chargers);
  const tenders = indicesIn(fleet.tenders);
  const known = [fleet.aircraft, fleet.chargers, fleet.tenders].flat().map(({ id }) => String(id));
  const unknown = ids.filter((id) => !known.includes(id));
  const types = new Set(aircraft.map((index) => fleet.aircraft[index]!.typeId));
  if (unknown.length > 0 || types.size !== 1 || tenders.length !== 1) {
    throw new BadInput([
      `--outfit ${ids.join(",")}: ${unknown.length > 0 ? `${unknown.join(", ")} is unknown; ` : ""}expected aircraft of one type, one tender and any chargers, by id, as ${fleet.aircraft[0]?.id},${fleet.tenders[0]?.id}`,
    ]);
  }
  const first = fleet.aircraft[aircraft[0]!]!;
  const type = fleet.aircraftTypes.findIndex(({ id }) => id === first.typeId);
  const base = settings.bases.findIndex(({ id }) => id === first.baseId);
  const share = equipment.setsPerAircraft[base * fleet.aircraftTypes.length + type]!;
  return signatures.of({
    option: { type, count: aircraft.length },
    aircraft,
    sets: share * aircraft.length,
    chargers,
    tender: tenders[0]!,
  });
}

function words({ type, option, sets, chargers, tender }: Signature) {
  return {
    aircraftTypeId: type.id,
    aircraft: option.count,
    batterySets: sets,
    chargerIds: chargers.map(({ id }) => id),
    tenderId: tender.id,
  };
}

function facts(outcome: WorkOutcome) {
  return outcome.ok ? { ok: true, minutes: outcome.minutes, padIndex: outcome.padIndex, ...outcome.detail } : outcome;
}

function outcomeLines(signature: Signature, outcome: WorkOutcome, unit: string): string[] {
  const { aircraftTypeId, aircraft, batterySets, chargerIds, tenderId } = words(signature);
  const title = `${aircraft} x ${aircraftTypeId}, ${batterySets} battery sets, chargers ${chargerIds.join(" ") || "none"}, ${tenderId}`;
  if (!outcome.ok) return [title, `  cannot: ${refusal(outcome)}`];
  const { detail, minutes } = outcome;
  return [
    title,
    `  ${minutes} min, ${detail.rateHaPerHour.toFixed(1)} ha/h, bottleneck ${detail.bottleneck}`,
    `  ${detail.passes} passes, ${detail.passKm.toFixed(1)} km at ${detail.speedMps.toFixed(1)} m/s, heading ${Math.round(detail.headingDeg)} degrees`,
    `  ${detail.loads} loads of ${detail.loadSize.toFixed(1)} ${unit}, ${detail.amount.toFixed(0)} ${unit} in all, ${detail.batteryChanges} battery changes`,
    `  over all aircraft: ${detail.sprayMin.toFixed(0)} min on passes, ${detail.turnMin.toFixed(0)} turning, ${detail.ferryMin.toFixed(0)} to and from the pad, ${detail.groundMin.toFixed(0)} on the ground`,
  ];
}

const tableHead = ["aircraft", "sets", "bays", "min", "ha/h", "loads", "changes", "tender", "bottleneck"];

function tableRow(signature: Signature, outcome: WorkOutcome): string[] {
  const { option, type, sets, charge, tender } = signature;
  const start = [`${option.count} x ${type.id}`, String(sets), String(charge?.bays ?? "-")];
  if (!outcome.ok) return [...start, "-", "-", "-", "-", tender.id, refusal(outcome)];
  const { loads, batteryChanges, rateHaPerHour, bottleneck } = outcome.detail;
  return [
    ...start,
    String(outcome.minutes),
    rateHaPerHour.toFixed(1),
    String(loads),
    String(batteryChanges),
    tender.id,
    bottleneck,
  ];
}

function refusal(outcome: Extract<WorkOutcome, { ok: false }>): string {
  if (outcome.limit === "method") return `has no gear for ${outcome.actual} work`;
  return `${outcome.limit} ${outcome.actual.toFixed(1)} ${outcome.unit}, against ${outcome.allowed.toFixed(1)}`;
}
