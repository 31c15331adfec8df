import type { LonLat } from "../../../../shared/geo/plane.ts";
import type { AreaGeometry } from "../../../../shared/model/field.ts";
import type { HazardKind, SensitiveKind } from "../../../../shared/model/quantities.ts";
import type { UnitSystem } from "../../../../shared/units/units.ts";

/** What a map draws, as data: every look differs from the others by more than its colour. */
export interface MapItems {
  readonly areas: readonly MapArea[];
  readonly lines: readonly MapLine[];
  readonly points: readonly MapPoint[];
}

export type AreaLook = "planned" | "partly" | "notPlanned" | "noOrder" | "treated" | "around" | SensitiveKind;

interface Drawn {
  readonly id: string;
  /** Told when pointed at. */
  readonly title: string;
  /** Written beside it where there is room; the heavier are written first. */
  readonly label: string | null;
  readonly labelWeight: number;
  readonly isFaded: boolean;
  /** What a click on it chooses; null: nothing. */
  readonly chooses: string | null;
}

export interface MapArea extends Drawn {
  readonly look: AreaLook;
  readonly geometry: AreaGeometry;
  /** Is chosen: has a ring around it that is seen from afar. */
  readonly isChosen: boolean;
}

export interface MapLine {
  readonly id: string;
  readonly look: "road" | "pass" | "heading" | "water" | "hazard" | "hazardMarks";
  readonly title: string;
  readonly positions: readonly LonLat[];
  readonly hasArrow: boolean;
  readonly isFaded: boolean;
  /** At which scales it is drawn; null: at all. */
  readonly seen: SeenAt | null;
  /** Written where it begins or ends; null: nothing is. */
  readonly label: { readonly text: string; readonly at: "start" | "end"; readonly weight: number } | null;
}

export interface SeenAt {
  readonly aboveMPerPx: number;
  readonly upToMPerPx: number;
  /** Nearer than this there is room for its arrow. */
  readonly arrowUpToMPerPx: number;
}

export const isSeenAt = ({ seen }: Pick<MapLine, "seen">, mPerPx: number): boolean =>
  seen === null || (mPerPx > seen.aboveMPerPx && mPerPx <= seen.upToMPerPx);

export type PointLook = "base" | "waterPoint" | "pad" | "stop" | "me" | SensitiveKind | `hazard ${HazardKind}`;

export interface MapPoint extends Drawn {
  readonly look: PointLook;
  readonly at: LonLat;
  /** Of a stop: its numbers, written in its sign. */
  readonly text: string | null;
  /** How far it reaches on the ground; 0: a place alone. */
  readonly reachM: number;
  /** May give way to what else is there: a dot alone is left of it. */
  readonly mayShrink: boolean;
}

/** Quantities in the words of the chosen units. */
export interface MapUnits {
  readonly system: UnitSystem;
  areaHa(area: number): string;
  roadKm(length: number): string;
  lengthM(length: number): string;
}
