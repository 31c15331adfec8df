import type { RemedyChangeOf } from "../../../shared/cases/remedyChange.ts";
import type { HireOffer } from "../../../shared/model/fleet.ts";
import type { BaseId } from "../../../shared/model/quantities.ts";
import { byOffice, type Candidate, type Wanting } from "./candidate.ts";
import { crewsOf } from "./crewsOf.ts";

/** Our choice: so many battery sets are moved or hired in one go. */
const setsTogether = 2;

/** Things that could be hired at the bases of crews that want for them. */
export function hiredThings(wanting: Wanting): Candidate[] {
  const { fleet } = wanting.operation;
  const crews = crewsOf(wanting);
  return basesOf(wanting).flatMap((baseId) =>
    (fleet.hire ?? [])
      .filter((offer) => offer.baseIds.includes(baseId) && isFlown(offer, baseId))
      .map((offer) => byOffice(hireOf(offer, baseId))),
  );

  function isFlown(offer: HireOffer, baseId: BaseId): boolean {
    if (offer.kind !== "aircraft" && offer.kind !== "batterySets") return true;
    return crews.some(
      (crew) => crew.baseId === baseId && crew.people.some(({ ratings }) => ratings.includes(offer.typeId)),
    );
  }
}

function hireOf(offer: HireOffer, baseId: BaseId) {
  switch (offer.kind) {
    case "aircraft":
      return { kind: "addAircraft" as const, typeId: offer.typeId, baseId, count: 1, batterySets: offer.batterySets };
    case "batterySets":
      return { kind: "batterySets" as const, typeId: offer.typeId, baseId, more: Math.min(offer.most, setsTogether) };
    case "charger":
      return { kind: "addCharger" as const, baseId, bays: offer.bays, kw: offer.kw, count: 1 };
    case "tender":
      return { kind: "addTender" as const, like: offer.like, baseId, count: 1 };
  }
}

/** One of each kind of thing brought from another base, an aircraft with its share of that base's battery sets. Whether it is missed there the plan tells. */
export function movedThings(wanting: Wanting): Candidate[] {
  const { fleet, settings } = wanting.operation;
  const locked = new Set(
    wanting.operation.locks.flatMap(({ outfit }) => [
      ...(outfit?.aircraftIds ?? []),
      ...(outfit?.chargerIds ?? []),
      ...(outfit?.tenderId === undefined ? [] : [outfit.tenderId]),
    ]) as string[],
  );
  const free = <Thing extends { readonly id: string }>(things: readonly Thing[]) =>
    things.filter(({ id }) => !locked.has(id));
  return basesOf(wanting).flatMap((toBaseId) =>
    settings.bases
      .filter(({ id }) => id !== toBaseId)
      .flatMap(({ id: fromBaseId }) => {
        const there = <Thing extends { readonly baseId: string }>(things: readonly Thing[]) =>
          things.filter(({ baseId }) => baseId === fromBaseId);
        const tenders = firstOfAlike(free(there(fleet.tenders)), ({ id, name, ...rest }) => rest);
        const chargers = firstOfAlike(free(there(fleet.chargers)), ({ id, ...rest }) => rest);
        const aircraft = firstOfAlike(free(there(fleet.aircraft)), ({ typeId }) => typeId).filter(({ typeId }) =>
          isRated(toBaseId, typeId),
        );
        const stocks = there(fleet.batteryStocks).filter(
          ({ sets, aircraftTypeId }) => sets > 0 && isRated(toBaseId, aircraftTypeId),
        );
        return [
          ...aircraft.map(({ id, typeId }) => {
            const alike = there(fleet.aircraft).filter((one) => one.typeId === typeId).length;
            const sets = Math.floor((stocks.find((stock) => stock.aircraftTypeId === typeId)?.sets ?? 0) / alike);
            return moved(toBaseId, {
              aircraftIds: [id],
              batterySets: sets > 0 ? [{ fromBaseId, typeId, sets }] : [],
            });
          }),
          ...tenders.map(({ id }) => moved(toBaseId, { tenderIds: [id] })),
          ...chargers.map(({ id }) => moved(toBaseId, { chargerIds: [id] })),
          ...stocks.map(({ aircraftTypeId: typeId, sets }) =>
            moved(toBaseId, { batterySets: [{ fromBaseId, typeId, sets: Math.min(sets, setsTogether) }] }),
          ),
        ];
      }),
  );

  function isRated(baseId: BaseId, typeId: string): boolean {
    return fleet.crews.some(
      (crew) =>
        crew.baseId === baseId && crew.people.some(({ ratings }) => ratings.some((rating) => rating === typeId)),
    );
  }
}

function moved(toBaseId: BaseId, things: Partial<RemedyChangeOf<"moveThings">>): Candidate {
  const none = { aircraftIds: [], chargerIds: [], tenderIds: [], batterySets: [] };
  return byOffice({ kind: "moveThings", toBaseId, ...none, ...things });
}

function basesOf(wanting: Wanting): readonly BaseId[] {
  return [...new Set(crewsOf(wanting).map(({ baseId }) => baseId))];
}

function firstOfAlike<Thing>(things: readonly Thing[], specOf: (thing: Thing) => unknown): Thing[] {
  const seen = new Set<string>();
  return things.filter((thing) => {
    const spec = JSON.stringify(specOf(thing));
    if (seen.has(spec)) return false;
    seen.add(spec);
    return true;
  });
}
