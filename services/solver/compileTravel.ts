import { cosineOfLat, haversineKm } from "../../shared/geo/distance.ts";
import type { Operation } from "../../shared/model/operation.ts";

export interface Travel {
  readonly places: readonly string[];
  readonly travelMin: Int32Array;
  readonly travelKm: Float64Array;
  readonly fillLPerMin: Float64Array;
  readonly waterPlaces: readonly number[];
  readonly placeOfBase: readonly number[];
  /** padPlaces[field][pad] */
  readonly padPlaces: readonly (readonly number[])[];
}

/** Road minutes (rounded up) and km between every two of bases, water points and pads: roads.csv where it lists the pair, else the road model. */
export function compileTravel(operation: Operation): Travel {
  const { bases, waterPoints, roads } = operation.settings;
  const places: string[] = [];
  const positions: [number, number][] = [];
  const fills: number[] = [];
  const add = (name: string, lonDeg: number, latDeg: number, fillLPerMin: number) => {
    places.push(name);
    positions.push([lonDeg, latDeg]);
    fills.push(fillLPerMin);
    return places.length - 1;
  };
  const placeOfBase = bases.map((base) => add(base.id, base.lonDeg, base.latDeg, base.fillLPerMin));
  const waterPlaces = waterPoints.map((point) => add(point.id, point.lonDeg, point.latDeg, point.fillLPerMin));
  const padPlaces = operation.fields.features.map(({ properties }) =>
    properties.pads.map((pad) => add(`${properties.id}/${pad.id}`, pad.lonDeg, pad.latDeg, 0)),
  );

  const count = places.length;
  const travelMin = new Int32Array(count * count);
  const travelKm = new Float64Array(count * count);
  const cosines = positions.map(cosineOfLat);
  for (let from = 0; from < count; from++) {
    for (let to = from + 1; to < count; to++) {
      const km = haversineKm(positions[from]!, cosines[from]!, positions[to]!, cosines[to]!) * roads.circuityFactor;
      const minutes = Math.ceil((km / roads.speedKph) * 60);
      travelKm[from * count + to] = km;
      travelKm[to * count + from] = km;
      travelMin[from * count + to] = minutes;
      travelMin[to * count + from] = minutes;
    }
  }
  const indexOf = new Map(places.map((name, index) => [name, index]));
  for (const road of operation.roads) {
    const at = indexOf.get(road.from)! * count + indexOf.get(road.to)!;
    travelKm[at] = road.distanceKm;
    travelMin[at] = Math.ceil(road.durationMin);
  }
  return { places, travelMin, travelKm, fillLPerMin: Float64Array.from(fills), waterPlaces, placeOfBase, padPlaces };
}
