import type { Problem } from "../problem.ts";

/** What may be wanting for a single aircraft of a type, at some base that has one. */
export function shortOf({ operation, baseOfCrew, equipment, types, crews }: Problem, type: number) {
  const { fleet } = operation;
  const { id, power, transportSlots } = types[type]!;
  const crewsWithOne = crews.flatMap((crew, index) =>
    fleet.aircraft.some(({ typeId, baseId }) => typeId === id && baseId === crew.baseId)
      ? [{ crew, base: baseOfCrew[index]! }]
      : [],
  );
  const isShort = {
    rating: ({ crew }: (typeof crewsWithOne)[number]) => !crew.people.some(({ ratings }) => ratings.includes(id)),
    tender: ({ base }: (typeof crewsWithOne)[number]) =>
      !fleet.tenders.some((tender, at) => equipment.tenderBase[at] === base && tender.transportSlots >= transportSlots),
    sets: ({ base }: (typeof crewsWithOne)[number]) =>
      power.source === "battery" && equipment.stock[base * types.length + type] === 0,
    chargers: ({ base }: (typeof crewsWithOne)[number]) =>
      power.source === "battery" &&
      !(
        fleet.chargers.some(({ kw }, at) => equipment.chargerBase[at] === base && kw >= power.chargeKw) &&
        fleet.tenders.every(({ generatorKw }, at) => equipment.tenderBase[at] !== base || generatorKw >= power.chargeKw)
      ),
    outOfService: ({ crew }: (typeof crewsWithOne)[number]) =>
      fleet.aircraft.some(
        ({ typeId, baseId, outOfService }) => typeId === id && baseId === crew.baseId && outOfService.length > 0,
      ),
  };
  return (["rating", "tender", "sets", "chargers", "outOfService"] as const).filter((limit) =>
    crewsWithOne.some(isShort[limit]),
  );
}
