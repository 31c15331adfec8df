import type { DayMap } from "../../../../shared/plan/dayMap.ts";
import type { SensitiveOnMap } from "../../../../shared/plan/mapPlaces.ts";
import type { FieldOnMap, WeekMap } from "../../../../shared/plan/weekMap.ts";
import { mapWords } from "../strings/map.ts";
import { passLines, roadLines, stopPoints, treatedAreas } from "./dayItems.ts";
import { hazardItems } from "./hazardItems.ts";
import type { MapArea, MapItems, MapUnits } from "./items.ts";
import { placePoint } from "./placePoint.ts";
import { sensitiveItems } from "./sensitiveItems.ts";

/** The week's map; with a crew-day on it the rest is faded. `orderId`: the order that is chosen. */
export function weekItems(week: WeekMap, day: DayMap | null, orderId: string | null, units: MapUnits): MapItems {
  const ofDay = new Set(day?.fields.map(({ fieldId }) => fieldId));
  const near = new Set(day?.sensitive.map(({ id }) => id));
  const fades = (isOfDay: boolean) => day !== null && !isOfDay;
  const fields = week.fields.map((field) => fieldArea(field, orderId, fades(ofDay.has(field.fieldId)), units));
  const { areas, lines, points } = sensitiveItems(week.sensitive, (one: SensitiveOnMap) => fades(near.has(one.id)));
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
    lines: [...lines, ...roadLines(day, units), ...passLines(day, null), ...hazards.lines],
    points: [...points, ...hazards.points, ...places, ...stopPoints(day, null)],
  };
}

function fieldArea(
  field: FieldOnMap,
  orderId: string | null,
  isFaded: boolean,
  units: Pick<MapUnits, "areaHa">,
): MapArea {
  const isChosen = orderId !== null && field.orders.includes(orderId);
  return {
    id: `field ${field.fieldId}`,
    look: field.status,
    geometry: field.geometry,
    title: mapWords.fieldTitle(field.name, mapWords.status[field.status], units.areaHa(field.areaHa)),
    label: isFaded && !isChosen ? null : field.name,
    labelWeight: isChosen ? 4000 : 100 + Math.min(900, field.areaHa),
    isFaded: isFaded && !isChosen,
    isChosen,
    chooses: field.orders.length === 0 ? null : field.fieldId,
  };
}

/** The order that a click on a field chooses: its first, or the one after that which is chosen already. */
export function nextOrderOf(orders: readonly string[], orderId: string | null): string | null {
  return orders[(orderId === null ? -1 : orders.indexOf(orderId)) + 1] ?? orders[0] ?? null;
}
