import type { LonLat } from "../geo/plane.ts";
import type { AreaGeometry } from "../model/field.ts";
import type { Operation } from "../model/operation.ts";
import type { FieldId } from "../model/quantities.ts";
import { flownPasses } from "./flownPasses.ts";
import { type HazardOnMap, hazardsBy } from "./hazards.ts";
import { type LocalTime, localTimeOf } from "./localTime.ts";
import {
  type Bounds,
  boundsOf,
  type PlaceOnMap,
  placeOnMap,
  positionsOf,
  type SensitiveOnMap,
  sensitiveOnMap,
} from "./mapPlaces.ts";
import { neighboursOf } from "./neighbours.ts";
import type { Block, CrewDay, Plan } from "./plan.ts";
import { indexPlan, type PlanIndex } from "./planIndex.ts";
import type { Stop } from "./totals.ts";

export interface StopOnMap {
  readonly number: number;
  readonly blockId: string;
  readonly orderId: string;
  readonly fieldId: string;
  readonly fieldName: string;
  readonly part: number;
  readonly parts: number;
  readonly areaHa: number;
  readonly headingDeg: number;
  readonly start: LocalTime;
  readonly end: LocalTime;
  /** The ground to be treated. */
  readonly geometry: Block["geometry"];
  readonly padId: string;
  readonly pad: LonLat;
  /** Pieces of passes in the order and direction flown. */
  readonly passes: readonly (readonly LonLat[])[];
}

export interface DriveOnMap {
  readonly fromWords: string;
  readonly toWords: string;
  readonly start: LocalTime;
  readonly end: LocalTime;
  readonly km: number;
  /** Straight: which roads are taken is not known. */
  readonly line: readonly [LonLat, LonLat];
}

export interface DayMap {
  readonly crewId: string;
  readonly date: string;
  readonly fields: readonly {
    readonly fieldId: string;
    readonly name: string;
    readonly grower: string;
    readonly geometry: AreaGeometry;
  }[];
  readonly stops: readonly StopOnMap[];
  readonly route: readonly DriveOnMap[];
  /** Each once, in the order in which the crew comes to them. */
  readonly places: readonly PlaceOnMap[];
  /** Those that the sheet names as neighbours of a stop. */
  readonly sensitive: readonly SensitiveOnMap[];
  /** Those that the sheet names at a stop, each once. */
  readonly hazards: readonly HazardOnMap[];
  readonly bounds: Bounds;
}

/** What the day's map shows; null when the crew does not go out that day. */
export function dayMap(
  operation: Operation,
  plan: Pick<Plan, "blocks" | "crewDays">,
  crewId: string,
  date: string,
): DayMap | null {
  const crewDay = plan.crewDays.find((one) => one.crewId === crewId && one.date === date);
  if (crewDay === undefined) return null;
  const index = indexPlan(operation, plan);
  const stops = index.stops.filter((stop) => stop.crewDay === crewDay);
  const fields = [...new Set(stops.map(({ block }) => index.order(block.orderId).fieldId))].map((id) => {
    const { geometry, properties } = index.field(id);
    return { fieldId: id, name: properties.name, grower: properties.grower, geometry };
  });
  const places = placesOf(index, crewDay);
  const sensitive = neighboursOfDay(index, stops);
  const hazards = hazardsOfFields(
    index,
    fields.map(({ fieldId }) => fieldId),
  );
  const positions = [
    ...fields.flatMap(({ geometry }) => positionsOf(geometry)),
    ...places.map(({ at }) => at),
    ...sensitive.flatMap(({ geometry }) => positionsOf(geometry)),
    ...hazards.flatMap(({ geometry }) => positionsOf(geometry)),
  ];
  return {
    crewId,
    date,
    fields,
    stops: stops.map((stop, at) => stopOnMap(index, stop, at + 1)),
    route: routeOf(index, crewDay),
    places,
    sensitive,
    hazards,
    bounds: boundsOf(positions),
  };
}

function stopOnMap(index: PlanIndex, stop: Stop, number: number): StopOnMap {
  const { block, work } = stop;
  const { fieldId } = index.order(block.orderId);
  return {
    number,
    blockId: block.id,
    orderId: block.orderId,
    fieldId,
    fieldName: index.field(fieldId).properties.name,
    part: block.part,
    parts: block.parts,
    areaHa: block.areaHa,
    headingDeg: work.detail.headingDeg,
    start: localTimeOf(index.calendar, work.startMin),
    end: localTimeOf(index.calendar, work.endMin),
    geometry: block.geometry,
    padId: work.padId,
    pad: placeOnMap(index, `${fieldId}/${work.padId}`).at,
    passes: flownPasses(index, stop).lines,
  };
}

function routeOf(index: PlanIndex, { activities }: CrewDay): DriveOnMap[] {
  return activities.flatMap((activity): DriveOnMap[] => {
    if (activity.kind !== "drive") return [];
    const { from, to, startMin, endMin, distanceKm } = activity;
    return [
      {
        fromWords: index.placeWords(from),
        toWords: index.placeWords(to),
        start: localTimeOf(index.calendar, startMin),
        end: localTimeOf(index.calendar, endMin),
        km: distanceKm,
        line: [placeOnMap(index, from).at, placeOnMap(index, to).at],
      },
    ];
  });
}

function placesOf(index: PlanIndex, { activities }: CrewDay): PlaceOnMap[] {
  const ids = activities.flatMap((activity) => {
    if (activity.kind === "drive") return [activity.from, activity.to];
    return activity.kind === "refill" || activity.kind === "setup" ? [activity.place] : [];
  });
  return [...new Set(ids)].map((id) => placeOnMap(index, id));
}

function neighboursOfDay(index: PlanIndex, stops: readonly Stop[]): SensitiveOnMap[] {
  const near = stops.flatMap(({ block }) => {
    const order = index.order(block.orderId);
    return neighboursOf(index.operation, index.field(order.fieldId), index.productsOf(order));
  });
  const ids = new Set<string>(near.map(({ sensitiveId }) => sensitiveId));
  return index.operation.sensitive.features.filter(({ properties }) => ids.has(properties.id)).map(sensitiveOnMap);
}

function hazardsOfFields(index: PlanIndex, fieldIds: readonly FieldId[]): HazardOnMap[] {
  const near = fieldIds.flatMap((id) => hazardsBy(index.operation, index.field(id)));
  return [...new Map(near.map((one) => [one.id, one])).values()];
}
