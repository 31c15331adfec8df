import { addDays } from "../model/calendar.ts";
import { dateWords } from "../model/dateWords.ts";
import type { Operation } from "../model/operation.ts";
import { rateUnitOf } from "../model/product.ts";
import { counted, hectares, moneyWords, readable } from "../plan/words.ts";
import { changeWords } from "./changeWords.ts";
import type { Remedy } from "./remedy.ts";
import { extraHourMin, type RemedyChange } from "./remedyChange.ts";

type Facts = Pick<
  Remedy,
  | "changes"
  | "haWon"
  | "haWonInAll"
  | "orderIdsWon"
  | "stopsMoved"
  | "stopsDropped"
  | "costCents"
  | "hireCents"
  | "earnedCents"
>;

/** Our choice: less than this of other orders is not worth a word. */
const leastOthersHa = 0.1;

/** "West large one hour longer on Friday 18 June 2027: 12.4 ha more (O-41, O-66), 2 stops move, 38.20 EUR more to run, 410.00 EUR more earned". */
export function remedySentence(operation: Operation, facts: Facts): string {
  const { haWon, haWonInAll, orderIdsWon, stopsMoved, stopsDropped, costCents, hireCents, earnedCents } = facts;
  const { currency } = operation.settings;
  const money = (cents: number) => `${moneyWords(Math.abs(cents))} ${currency}`;
  const othersHa = haWonInAll - haWon;
  const leftCents = earnedCents - costCents - hireCents;
  const effects = [
    `${hectares(haWon)} ha more (${orderIdsWon.join(", ")})`,
    ...(othersHa >= leastOthersHa ? [`${hectares(othersHa)} ha of others, too`] : []),
    ...(othersHa <= -leastOthersHa ? [`${hectares(-othersHa)} ha of others give way`] : []),
    ...(stopsMoved > 0 ? [`${counted(stopsMoved, "stop moves", "stops move")}`] : []),
    ...(stopsDropped > 0 ? [`${counted(stopsDropped, "stop is left out", "stops are left out")}`] : []),
    `${money(costCents)} ${costCents < 0 ? "less" : "more"} to run`,
    ...(hireCents > 0 ? [`${money(hireCents)} of hire`] : []),
    `${money(earnedCents)} ${earnedCents < 0 ? "less" : "more"} earned`,
    ...(leftCents < 0 ? [`a loss of ${money(leftCents)}`] : []),
  ];
  return `${facts.changes.map((change) => whatToDo(operation, change)).join("; ")}: ${effects.join(", ")}`;
}

/** What the office would have to do, or ask. */
export function whatToDo(operation: Operation, change: RemedyChange): string {
  switch (change.kind) {
    case "longerShift": {
      const { earlierMin, laterMin } = change;
      const long = earlierMin + laterMin === extraHourMin ? "one hour" : `${earlierMin + laterMin} min`;
      const end = earlierMin === 0 ? "longer" : laterMin === 0 ? "earlier out" : "longer at both ends";
      return `${crewName(operation, change.crewId)} ${long} ${end} on ${dateWords(change.dates[0])}`;
    }
    case "setShift":
      return `${crewName(operation, change.crewId)} out on its day off, ${dateWords(change.date)}, ${change.from} to ${change.to}`;
    case "addAircraft":
    case "batterySets":
    case "addCharger":
    case "addTender":
      return `Hire ${changeWords(operation, change)}`;
    case "moveThings":
      return `Bring ${changeWords(operation, change)}`;
    case "addPad":
      return `A pad at the far end of ${fieldName(operation, change.fieldId)}, ${change.pad.latDeg.toFixed(5)} ${change.pad.lonDeg.toFixed(5)}`;
    case "harvestDate":
      return `Ask ${growerOf(operation, change.fieldId)} to harvest ${fieldName(operation, change.fieldId)} on ${dateWords(change.date)} or later`;
    case "changeOrder":
      return orderWords(operation, change);
  }
}

function orderWords(operation: Operation, { orderId, set }: Extract<RemedyChange, { kind: "changeOrder" }>): string {
  const order = operation.orders.find(({ id }) => id === orderId)!;
  const ask = `Ask ${growerOf(operation, order.fieldId)}`;
  const what = `${orderId} on ${fieldName(operation, order.fieldId)}`;
  if ("earliest" in set) {
    const [date, clock] = set.earliest.split("T");
    const when = `${dateWords(date!)}${clock === "00:00" ? "" : ` ${clock}`}`;
    return `${ask} whether ${what} may be done from ${when} on`;
  }
  if ("latest" in set) return `${ask} whether ${what} may wait until ${timeWords(set.latest)}`;
  if ("maySplit" in set) return `${ask} whether ${what} may be done in parts`;
  const mix = set.products.map(({ productId, ratePerHa }) => {
    const product = operation.products.find(({ id }) => id === productId);
    return `${product?.name ?? productId} at ${readable(ratePerHa)} ${product === undefined ? "" : `${rateUnitOf(product)}/ha`}`;
  });
  const volume = typeof set.carrierLPerHa === "number" ? ` in ${readable(set.carrierLPerHa)} L/ha` : "";
  return `${ask} to take ${mix.join(" and ")}${volume} for ${what}`;
}

/** Midnight is the end of the day before. */
function timeWords(localDateTime: string): string {
  const [date, clock] = localDateTime.split("T");
  return clock === "00:00" ? `the end of ${dateWords(addDays(date!, -1))}` : `${dateWords(date!)} ${clock}`;
}

function crewName({ fleet }: Operation, id: string): string {
  return fleet.crews.find((crew) => crew.id === id)?.name ?? id;
}

const fieldOf = ({ fields }: Operation, id: string) =>
  fields.features.find(({ properties }) => properties.id === id)?.properties;
const fieldName = (operation: Operation, id: string) => fieldOf(operation, id)?.name ?? id;
const growerOf = (operation: Operation, id: string) => fieldOf(operation, id)?.grower ?? "the grower";
