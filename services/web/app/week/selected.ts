import { addressOf } from "../place.ts";

/** What is chosen on the week's screen: in the board, on the map and in every list it is the same. */
export type Selected =
  /** With a block: the stop that was pointed at; an order may be done in several. */
  | { readonly kind: "order"; readonly orderId: string; readonly blockId?: string }
  | { readonly kind: "crewDay"; readonly crewId: string; readonly date: string }
  | null;

export type OnSelect = (selected: Selected) => void;

export interface WeekPlace {
  /** Null: the plan that crews go by, else the newest. */
  readonly planId: string | null;
  readonly selected: Selected;
}

/** `#week/PLAN`, `#week/PLAN/order/ORDER`, `#week/PLAN/order/ORDER/BLOCK`, `#week/PLAN/day/CREW/DATE`; what is none of these chooses nothing. */
export function weekPlaceOf([planId = "", kind, ...of]: readonly string[]): WeekPlace {
  return { planId: planId || null, selected: selectedOf(kind, of) };
}

function selectedOf(kind: string | undefined, [first = "", second = ""]: readonly string[]): Selected {
  if (kind === "order" && first) {
    return { kind: "order", orderId: first, ...(second === "" ? {} : { blockId: second }) };
  }
  if (kind === "day" && first && second) return { kind: "crewDay", crewId: first, date: second };
  return null;
}

export function weekAddress(planId: string, selected: Selected): string {
  if (selected === null) return addressOf("week", planId);
  if (selected.kind === "crewDay") return addressOf("week", planId, "day", selected.crewId, selected.date);
  const block = selected.blockId === undefined ? [] : [selected.blockId];
  return addressOf("week", planId, "order", selected.orderId, ...block);
}
