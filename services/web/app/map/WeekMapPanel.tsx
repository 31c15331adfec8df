import { mapWords } from "../strings/map.ts";

export type WeekSelection =
  | { readonly kind: "order"; readonly orderId: string }
  | { readonly kind: "crewDay"; readonly crewId: string; readonly date: string };

export interface WeekMapPanelProps {
  readonly operationId: string;
  readonly planId: string;
  readonly selected: WeekSelection | null;
  readonly onSelect: (selected: WeekSelection | null) => void;
}

/** The map of a plan's week. May be imported from anywhere: what draws it comes when it is shown. */
export function WeekMapPanel(_: WeekMapPanelProps) {
  return <p className="quiet">{mapWords.loading}</p>;
}
