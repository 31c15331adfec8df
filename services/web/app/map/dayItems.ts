import type { DayMap, StopOnMap } from "../../../../shared/plan/dayMap.ts";
import { type Bounds, boundsOf, positionsOf } from "../../../../shared/plan/mapPlaces.ts";
import { mapWords } from "../strings/map.ts";
import { hazardItems } from "./hazardItems.ts";
import type { MapArea, MapItems, MapLine, MapPoint, MapUnits } from "./items.ts";
import { passLines } from "./passLines.ts";
import { placePoint } from "./placePoint.ts";
import { sensitiveItems } from "./sensitiveItems.ts";

/** A crew's day: with a stop chosen its passes alone, and the other stops faded. */
export function dayItems(day: DayMap, stopNumber: number | null, units: Pick<MapUnits, "roadKm" | "system">): MapItems {
  const near = sensitiveItems(
    day.sensitive,
    () => false,
    ({ name }) => name,
  );
  const hazards = hazardItems(day.hazards, units.system, () => false, true);
  const chosen = day.stops.find(({ number }) => number === stopNumber);
  const fields = day.fields.map(({ fieldId, geometry, name }): MapArea => {
    const isOther = chosen !== undefined && chosen.fieldId !== fieldId;
    return {
      id: `field ${fieldId}`,
      look: "around",
      geometry,
      title: name,
      label: name,
      labelWeight: isOther ? 500 : 2500,
      isFaded: isOther,
      isChosen: false,
      chooses: null,
    };
  });
  return {
    areas: [...near.areas, ...fields, ...treatedAreas(day, stopNumber)],
    lines: [
      ...near.lines,
      ...roadLines(day, units),
      ...passLines(chosen === undefined ? day.stops : [chosen], chosen !== undefined),
      ...hazards.lines,
    ],
    points: [
      ...near.points,
      ...hazards.points,
      ...day.places.filter(({ kind }) => kind !== "pad").map((place) => placePoint(place, false)),
      ...stopPoints(day, stopNumber),
    ],
  };
}

/** What a map of the day is fitted to: the ground, pad and neighbours of the chosen stop, or all. */
export function dayBounds(day: DayMap, stopNumber: number | null): Bounds {
  const stop = day.stops.find(({ number }) => number === stopNumber);
  if (stop === undefined) return day.bounds;
  const field = day.fields.find(({ fieldId }) => fieldId === stop.fieldId);
  return boundsOf([...positionsOf(field?.geometry ?? stop.geometry), stop.pad]);
}

export function treatedAreas(day: DayMap, stopNumber: number | null): MapArea[] {
  return day.stops.map((stop) => groundOf(stop, stopNumber !== null && stop.number !== stopNumber));
}

export function groundOf(stop: StopOnMap, isFaded: boolean): MapArea {
  return {
    id: `ground ${stop.blockId}`,
    look: "treated",
    geometry: stop.geometry,
    title: stopTitle(stop),
    label: null,
    labelWeight: 0,
    isFaded,
    isChosen: false,
    chooses: `stop ${stop.number}`,
  };
}

export function roadLines(day: DayMap, units: Pick<MapUnits, "roadKm">): MapLine[] {
  return day.route.map(({ fromWords, km, line, toWords }, at) => ({
    id: `road ${at}`,
    look: "road",
    title: mapWords.drive(fromWords, toWords, units.roadKm(km)),
    positions: line,
    hasArrow: true,
    isFaded: false,
    seen: null,
    label: null,
  }));
}

/** The pads that are worked from, each with the numbers of its stops. */
export function stopPoints(day: DayMap, stopNumber: number | null): MapPoint[] {
  const atPad = new Map<string, StopOnMap[]>();
  for (const stop of day.stops) {
    const pad = `${stop.fieldId}/${stop.padId}`;
    atPad.set(pad, [...(atPad.get(pad) ?? []), stop]);
  }
  return [...atPad].map(([pad, stops]) => {
    const hasChosen = stops.some(({ number }) => number === stopNumber);
    return {
      id: `stops ${pad}`,
      look: "stop",
      at: stops[0]!.pad,
      text: stops.map(({ number }) => number).join(" "),
      title: stops.map(stopTitle).join("; "),
      label: null,
      labelWeight: 0,
      isFaded: stopNumber !== null && !hasChosen,
      chooses: `stop ${stops[0]!.number}`,
      reachM: 0,
      mayShrink: false,
    };
  });
}

export function stopTitle({ fieldName, number, start }: StopOnMap): string {
  return mapWords.stopTitle(number, fieldName, start.clock);
}
