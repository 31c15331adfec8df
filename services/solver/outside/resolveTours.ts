import type { Tour } from "../../../shared/contracts/tours.ts";
import { addDays } from "../../../shared/model/calendar.ts";
import type { Fault } from "../../../shared/model/faults.ts";
import { nearestWord } from "../../../shared/model/misspelling.ts";
import type { Problem, Taken } from "../problem.ts";
import type { SlotTour } from "./putTours.ts";

/** A tour in indices; `kinds` name types and numbers whether or not the crew may fly so many. */
export interface ResolvedTour extends SlotTour {
  readonly tour: Tour;
  readonly things: Taken;
}

/** Names to indices. What is not in the operation, or cannot be said in a tour, is a fault; what only does not run is not. */
export function resolveTours(
  problem: Problem,
  tours: readonly Tour[],
): { readonly resolved: readonly ResolvedTour[]; readonly faults: readonly Fault[] } {
  const faults: Fault[] = [];
  const { fleet } = problem.operation;
  const find = (what: string, known: readonly string[]) => {
    const indexOf = new Map(known.map((id, index) => [id, index]));
    return (id: string, path: Fault["path"]): number => {
      const index = indexOf.get(id) ?? -1;
      if (index < 0) {
        const near = nearestWord(id, known);
        faults.push({ path, value: id, expected: `${what}${near === undefined ? "" : `; perhaps ${near}`}` });
      }
      return index;
    };
  };
  const ids = (list: readonly { readonly id: string }[]) => list.map(({ id }) => id);
  const crewOf = find("a crew of the operation", ids(fleet.crews));
  const aircraftOf = find("an aircraft of the operation", ids(fleet.aircraft));
  const tenderOf = find("a tender of the operation", ids(fleet.tenders));
  const chargerOf = find("a charger of the operation", ids(fleet.chargers));
  const blockOf = find(
    "a block of the problem as plan --export-problem writes it",
    problem.blocks.map(({ block }) => block.id),
  );

  const resolved = tours.map((tour, at): ResolvedTour => {
    const path = ["tours", at];
    const { outfit } = tour;
    const crew = crewOf(tour.crewId, [...path, "crewId"]);
    const slot = problem.slots.findIndex((one) => one.crew === crew && problem.calendar.dates[one.day]! === tour.date);
    if (crew >= 0 && slot < 0) {
      const dates = problem.slotsOfCrew[crew]!.map((one) => problem.calendar.dates[problem.slots[one]!.day]!);
      const expected = dates.length === 0 ? "another crew: this one has no shift" : `one of ${dates.join(", ")}`;
      faults.push({ path: [...path, "date"], value: tour.date, expected });
    }
    const each = <Id extends string>(name: "aircraftIds" | "chargerIds", of: (id: Id, path: Fault["path"]) => number) =>
      (outfit[name] as unknown as readonly Id[]).map((id, one, list) => {
        const place = [...path, "outfit", name, one];
        if (list.indexOf(id) < one) faults.push({ path: place, value: id, expected: "each thing once" });
        return of(id, place);
      });
    const aircraft = each("aircraftIds", aircraftOf);
    const types = aircraft.map((one) => problem.equipment.aircraftType[one] ?? -1);
    const known = [...new Set(types)].filter((type) => type >= 0).sort((a, b) => a - b);
    const typeIds = known.map((type) => problem.types[type]!.id);
    outfit.batterySets.forEach(({ aircraftTypeId }, one, list) => {
      const isFirst = list.findIndex((other) => other.aircraftTypeId === aircraftTypeId) === one;
      if (types.includes(-1) || (isFirst && typeIds.includes(aircraftTypeId))) return;
      const place = [...path, "outfit", "batterySets", one, "aircraftTypeId"];
      const expected =
        typeIds.length === 1
          ? `one entry, for the type of the aircraft, ${typeIds[0]}`
          : `one entry for each type of the aircraft, ${typeIds.join(", ")}`;
      faults.push({ path: place, value: aircraftTypeId, expected });
    });
    return {
      tour,
      slot,
      things: {
        kinds: known.map((type) => ({
          option: { type, count: types.filter((one) => one === type).length },
          sets: outfit.batterySets.find((entry) => entry.aircraftTypeId === problem.types[type]!.id)?.sets ?? 0,
        })),
        aircraft,
        chargers: each("chargerIds", chargerOf),
        tender: tenderOf(outfit.tenderId, [...path, "outfit", "tenderId"]),
      },
      sleepsAt: sleepsAt(problem, tours, tour, slot, (expected) =>
        faults.push({ path: [...path, "sleepsAt"], value: tour.sleepsAt, expected }),
      ),
      stops: tour.blockIds.map((id, stop) => blockOf(id, [...path, "blockIds", stop])),
    };
  });
  return { resolved, faults };
}

/** The place of the base away from home at which a tour's crew sleeps, or -1. */
function sleepsAt(
  { routes, places, operation }: Problem,
  tours: readonly Tour[],
  { crewId, date, outfit, sleepsAt: baseId }: Tour,
  slot: number,
  fault: (expected: string) => void,
): number {
  const crew = operation.fleet.crews.find(({ id }) => id === crewId);
  if (baseId === undefined || crew === undefined || slot < 0 || baseId === crew.baseId) return -1;
  const mayBe = crew.overnightBaseIds ?? [];
  const next = tours.find((other) => other.crewId === crewId && other.date === addDays(date, 1));
  if (!mayBe.includes(baseId)) {
    fault(mayBe.length === 0 ? `nothing: ${crewId} sleeps at home` : `one of ${mayBe.join(", ")}, or nothing`);
  } else if (next === undefined || !routes.nights.some(({ evening }) => evening === slot)) {
    fault(`nothing, or a tour of ${crewId} on the next date after a shift that ends by midnight`);
  } else if (outfitText(next.outfit) !== outfitText(outfit)) {
    fault(`nothing, or the same outfit on ${next.date}, when the crew goes on from there`);
  } else return places.indexOf(baseId);
  return -1;
}

function outfitText({ aircraftIds, batterySets, chargerIds, tenderId }: Tour["outfit"]): string {
  const sets = batterySets.map(({ aircraftTypeId, sets: count }) => `${count} ${aircraftTypeId}`);
  return [[...aircraftIds].sort(), sets.sort(), [...chargerIds].sort(), tenderId].join(";");
}
