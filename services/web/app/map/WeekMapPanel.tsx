import type { OnSelect, Selected } from "../week/selected.ts";

export interface WeekMapPanelProps {
  readonly operationId: string;
  readonly planId: string;
  readonly selected: Selected;
  readonly onSelect: OnSelect;
}

/** The week's fields on the map; with a crew-day chosen its route and passes. */
export default function WeekMapPanel({ planId }: WeekMapPanelProps) {
  return <p>{planId}</p>;
}
