import type { AreaGeometry, Pad } from "../../../../shared/model/field.ts";
import { mapWords } from "../strings/map.ts";

export interface DrawnField {
  /** As the fields resource takes it. Null: nothing is drawn yet, or what is drawn is no field (then the drawing says why). */
  readonly geometry: AreaGeometry | null;
  readonly pads: readonly Pad[];
}

export interface DrawFieldProps {
  /** What it begins with; what is drawn is kept inside, and begins anew when another value comes than was handed to `onChange`. */
  readonly value: DrawnField;
  readonly onChange: (value: DrawnField) => void;
  /** Other fields, to find one's way by. */
  readonly around?: readonly { readonly name: string; readonly geometry: AreaGeometry }[];
}

/** Draws a field's ground and its pads. May be imported from anywhere: the map comes when it is shown. */
export function DrawField(_: DrawFieldProps) {
  return <p className="quiet">{mapWords.loading}</p>;
}
