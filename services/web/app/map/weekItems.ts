import type { DayMap, StopOnMap } from "../../../../shared/plan/dayMap.ts";
import type { SensitiveOnMap } from "../../../../shared/plan/mapPlaces.ts";
import type { FieldOnMap, WeekMap } from "../../../../shared/plan/weekMap.ts";
import { shortDayWords } from "../kit/dates.ts";
import { mapWords } from "../strings/map.ts";
import { groundOf, roadLines, stopPoints, stopTitle, treatedAreas } from "./dayItems.ts";
import { hazardItems } from "./hazardItems.ts";
import type { MapArea, MapItems, MapPoint, MapUnits } from "./items.ts";
import { type Near, nearField } from "./nearField.ts";
import { passLines } from "./passLines.ts";
import { placePoint } from "./placePoint.ts";
import { sensitiveItems } from "./sensitiveItems.ts";

/** The week's map; with a crew-day on it the rest is faded. */
export function weekItems(week: WeekMap, day: DayMap | null, units: MapUnits): MapItems {
  const ofDay = new Set(day?.fields.map(({ fieldId }) => fieldId));
  const near = new Set(day?.sensitive.map(({ id }) => id));
  const fades = (isOfDay: boolean) => day !== null && !isOfDay;
  const fields = week.fields.map((field) => fieldArea(field, false, fades(ofDay.has(field.fieldId)), units));
  const { areas, lines, points } = sensitiveItems(
    week.sensitive,
    (one: SensitiveOnMap) => fades(near.has(one.id)),
    () => null,
  );
  const nearDay = new Set(day?.hazards.map(({ id }) => id));
  const hazards = hazardItems(week.hazards, units.system, ({ id }) => fades(nearDay.has(id)));
  const visited = new Set(day?.places.map(({ id }) => id));
  const places = week.places.map((place) => placePoint(place, fades(visited.has(place.id))));
  if (day === null)
    return {
      areas: [...areas, ...fields],
      lines: [...lines, ...hazards.lines],
      points: [...points, ...hazards.points, ...places],
    };
  return {
    areas: [...areas, ...fields, ...treatedAreas(day, null)],
    lines: [...lines, ...roadLines(day, units), ...passLines(day.stops, false), ...hazards.lines],
    points: [...points, ...hazards.points, ...places, ...stopPoints(day, null)],
  };
}

/** The week's map with an order chosen: its field, what of it is worked in these crew-days, and how far off its neighbours are. */
export function orderItems(week: WeekMap, orderId: string, days: readonly DayMap[], units: MapUnits): MapItems {
  const chosen = week.fields.find(({ orders }) => orders.includes(orderId));
  const near = chosen === undefined ? new Map<string, Near>() : nearField(chosen.geometry, week.sensitive);
  const { areas, lines, points } = sensitiveItems(
    week.sensitive,
    () => false,
    ({ id, name }) => labelOf(name, near.get(id), units),
  );
  const nearHazards =
    chosen === undefined
      ? null
      : nearField(
          chosen.geometry,
          week.hazards.map((one) => ({ ...one, radiusM: 0 })),
        );
  const hazards = [true, false].map((isNear) =>
    hazardItems(
      week.hazards.filter(({ id }) => (nearHazards?.has(id) ?? false) === isNear),
      units.system,
      () => false,
      isNear,
    ),
  );
  const stops = days.flatMap(({ date, stops }) =>
    stops.filter((stop) => stop.orderId === orderId).map((stop) => ({ date, stop })),
  );
  return {
    areas: [
      ...areas,
      ...week.fields.map((field) => fieldArea(field, field === chosen, false, units)),
      ...stops.map(({ stop }) => ({ ...groundOf(stop, false), chooses: null })),
    ],
    lines: [
      ...lines,
      ...passLines(
        stops.map(({ stop }) => stop),
        true,
      ),
      ...hazards.flatMap((one) => one.lines),
    ],
    points: [
      ...points,
      ...hazards.flatMap((one) => one.points),
      ...week.places.map((place) => placePoint(place, false)),
      ...stops.map(padOf),
    ],
  };
}

function labelOf(name: string, near: Near | undefined, { lengthM }: Pick<MapUnits, "lengthM">): string | null {
  if (near === undefined) return null;
  // Lengths are told in whole metres or feet.
  return near.distanceM < 0.5 ? mapWords.atEdge(name) : mapWords.away(name, lengthM(near.distanceM));
}

function padOf({ date, stop }: { readonly date: string; readonly stop: StopOnMap }): MapPoint {
  return {
    id: `pad ${stop.blockId}`,
    look: "pad",
    at: stop.pad,
    text: null,
    title: stopTitle(stop),
    label: mapWords.padFrom(shortDayWords(date), stop.start.clock),
    labelWeight: 2500,
    isFaded: false,
    chooses: null,
    reachM: 0,
    mayShrink: false,
  };
}

function fieldArea(field: FieldOnMap, isChosen: boolean, isFaded: boolean, units: Pick<MapUnits, "areaHa">): MapArea {
  return {
    id: `field ${field.fieldId}`,
    look: field.status,
    geometry: field.geometry,
    title: mapWords.fieldTitle(field.name, mapWords.status[field.status], units.areaHa(field.areaHa)),
    label: isFaded ? null : field.name,
    labelWeight: isChosen ? 4000 : 100 + Math.min(900, field.areaHa),
    isFaded,
    isChosen,
    chooses: field.orders.length === 0 ? null : field.fieldId,
  };
}

/** The order that a click on a field chooses: its first, or the one after that which is chosen already. */
export function nextOrderOf(orders: readonly string[], orderId: string | null): string | null {
  return orders[(orderId === null ? -1 : orders.indexOf(orderId)) + 1] ?? orders[0] ?? null;
}
