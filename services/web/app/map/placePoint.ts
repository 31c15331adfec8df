import type { PlaceOnMap } from "../../../../shared/plan/mapPlaces.ts";
import type { MapPoint } from "./items.ts";

export function placePoint({ at, id, kind, name }: PlaceOnMap, isFaded: boolean): MapPoint {
  return {
    id: `place ${id}`,
    look: kind === "water" ? "waterPoint" : kind,
    at,
    text: null,
    title: name,
    label: kind === "pad" || isFaded ? null : name,
    labelWeight: kind === "base" ? 5000 : 2000,
    isFaded,
    chooses: null,
    reachM: 0,
    mayShrink: false,
  };
}
