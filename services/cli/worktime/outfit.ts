import type { Operation } from "../../../shared/model/operation.ts";
import type { Signature } from "../../solver/problem.ts";
import { BadInput } from "../output.ts";
import { fullOf, type Works } from "./orderWork.ts";

/** The outfit that the ids name; battery sets are the base's fair share, as in a plan. */
export function outfitNamed({ operation, equipment, signatures, fullSets }: Works, text: string): Signature {
  const { fleet, settings } = operation;
  const ids = text.split(",").map((id) => id.trim());
  const refuse = (what: string): never => {
    throw new BadInput([
      `--outfit ${text}: ${what}; expected aircraft of one type, one tender and any chargers of one base, by id, as ${example(operation)}`,
    ]);
  };
  const things = [...fleet.aircraft, ...fleet.chargers, ...fleet.tenders];
  const unknown = ids.filter((id) => things.every((thing) => thing.id !== id));
  if (unknown.length > 0) refuse(`${unknown.join(", ")} is unknown`);
  const twice = ids.find((id, index) => ids.indexOf(id) !== index);
  if (twice !== undefined) refuse(`${twice} is named twice`);

  const indicesIn = (list: readonly { readonly id: string }[]) =>
    ids.map((id) => list.findIndex((item) => item.id === id)).filter((index) => index >= 0);
  const aircraft = indicesIn(fleet.aircraft);
  const chargers = indicesIn(fleet.chargers);
  const tenders = indicesIn(fleet.tenders);
  const typeIds = [...new Set(aircraft.map((index) => fleet.aircraft[index]!.typeId))];
  if (typeIds.length === 0) refuse("no aircraft");
  if (typeIds.length > 1) refuse(`aircraft of ${typeIds.length} types, ${typeIds.join(" and ")}`);
  if (tenders.length !== 1) refuse(tenders.length === 0 ? "no tender" : `${tenders.length} tenders`);
  const baseIds = [...new Set(things.filter(({ id }) => ids.includes(id)).map(({ baseId }) => baseId))];
  if (baseIds.length > 1) refuse(`things of ${baseIds.length} bases, ${baseIds.join(" and ")}`);

  const type = fleet.aircraftTypes.findIndex(({ id }) => id === typeIds[0]);
  const { transportSlots } = fleet.tenders[tenders[0]!]!;
  const slots = aircraft.length * fleet.aircraftTypes[type]!.transportSlots;
  if (slots > transportSlots) refuse(`the aircraft take ${slots} places, the tender has ${transportSlots}`);
  const base = settings.bases.findIndex(({ id }) => id === baseIds[0]);
  const share = equipment.setsPerAircraft[base * fleet.aircraftTypes.length + type]!;
  const signature = signatures.of({
    option: { type, count: aircraft.length },
    aircraft,
    sets: share * aircraft.length,
    chargers,
    tender: tenders[0]!,
  });
  const outfit = signatures.at(signature);
  if (fullSets !== undefined && outfit.type.power.source === "fuel") {
    throw new BadInput([`--full ${fullSets}: ${outfit.type.id} burns fuel; expected an outfit with battery sets`]);
  }
  if (fullSets !== undefined && fullSets > outfit.sets) {
    throw new BadInput([`--full ${fullSets}: the outfit has ${outfit.sets} battery sets; expected no more than these`]);
  }
  return outfit;
}

/** An aircraft and what its base has beside it. */
function example({ fleet }: Operation): string {
  const first = fleet.aircraft[0];
  const beside = [fleet.tenders, fleet.chargers].map((list) => list.find(({ baseId }) => baseId === first?.baseId));
  return [first, ...beside].flatMap((thing) => (thing === undefined ? [] : [thing.id])).join(",");
}

export function outfitFacts(outfit: Signature, fullSets: number | undefined) {
  const { type, option, sets, charge, chargers, tender } = outfit;
  return {
    aircraftTypeId: type.id,
    aircraft: option.count,
    batterySets: sets,
    fullSets: fullOf(outfit, fullSets) ?? sets,
    chargerIds: chargers.map(({ id }) => id),
    workingBays: charge?.bays ?? null,
    tenderId: tender.id,
  };
}

export function outfitWords(outfit: Signature, fullSets: number | undefined): string {
  const { type, option, sets, charge, chargers, tender } = outfit;
  const full = fullOf(outfit, fullSets) ?? sets;
  const words = [`${option.count} x ${type.id}`];
  if (charge !== null) {
    words.push(
      `${sets} battery ${sets === 1 ? "set" : "sets"}${full < sets ? `, ${full} of them full at the start` : ""}`,
    );
    words.push(
      `${charge.bays} working ${charge.bays === 1 ? "bay" : "bays"}${chargers.length === 0 ? "" : ` (${chargers.map(({ id }) => id).join(", ")})`}`,
    );
  }
  return [...words, tender.id].join(", ");
}
