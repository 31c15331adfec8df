import fc from "fast-check";
import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { areaM2 } from "../../../shared/geo/area.ts";
import { type AreaLike, planeOf, toAreaXY } from "../../../shared/geo/convert.ts";
import { distanceM } from "../../../shared/geo/distance.ts";
import { createPlane, type LonLat } from "../../../shared/geo/plane.ts";
import { evenly } from "./shapes.ts";

/** The judge: GeographicLib (Karney, Algorithms for geodesics, Journal of Geodesy 87, 2013), in its JavaScript edition. */
const judge = geodesic.Geodesic.WGS84;

/** The sides of a GeoJSON polygon are straight in degrees (RFC 7946, 3.1.1), so the judge gets them in short geodesics. */
const pieces = 32;
function judgedAreaM2(positions: readonly LonLat[]): number {
  const polygon = judge.Polygon(false);
  positions.forEach(([lonDeg, latDeg], i) => {
    const [nextLonDeg, nextLatDeg] = positions[(i + 1) % positions.length]!;
    for (let piece = 0; piece < pieces; piece++) {
      const share = piece / pieces;
      polygon.AddPoint(latDeg + share * (nextLatDeg - latDeg), lonDeg + share * (nextLonDeg - lonDeg));
    }
  });
  return Math.abs(polygon.Compute(false, true).area ?? Number.NaN);
}

function polygonOf(positions: readonly LonLat[]): AreaLike {
  return { type: "Polygon", coordinates: [[...positions, positions[0]!]] };
}

const latitudeDeg = evenly(-65, 65);
const longitudeDeg = evenly(-179, 179);
const bearingDeg = evenly(0, 360);

describe("the judge", () => {
  it("gives its own published figures for Antarctica", () => {
    // The example in geodesic.h of GeographicLib for C: 13376856682207.4 m2 and 14710425.407 m.
    const outline = [
      [-72.9, -74],
      [-71.9, -102],
      [-74.9, -102],
      [-74.3, -131],
      [-77.5, -163],
      [-77.4, 163],
      [-71.7, 172],
      [-65.9, 140],
      [-65.7, 113],
      [-66.6, 88],
      [-66.9, 59],
      [-69.8, 25],
      [-70.0, -4],
      [-71.0, -14],
      [-77.3, -33],
      [-77.9, -46],
      [-74.7, -61],
    ] as const;
    const polygon = judge.Polygon(false);
    for (const [latDeg, lonDeg] of outline) polygon.AddPoint(latDeg, lonDeg);
    const { perimeter, area } = polygon.Compute(false, true);
    expect(perimeter).toBeCloseTo(14710425.407, 3);
    expect(Math.abs(area ?? Number.NaN)).toBeCloseTo(13376856682207.4, 0);
  });
});

describe("a local plane", () => {
  it("measures a cell of 0.01 degrees at 45 N as GeographicLib does: 876163.45 m2", () => {
    const cell: LonLat[] = [
      [7, 45],
      [7.01, 45],
      [7.01, 45.01],
      [7, 45.01],
    ];
    expect(judgedAreaM2(cell)).toBeCloseTo(876163.45, 1);
    const area = areaM2(toAreaXY(planeOf(polygonOf(cell)), polygonOf(cell)));
    expect(Math.abs(area / 876163.45 - 1)).toBeLessThan(1e-6);
  });

  it("measures fields of up to 2 km within 2e-7 of GeographicLib", () => {
    const radiiM = fc.array(evenly(100, 1000), { minLength: 4, maxLength: 12 });
    fc.assert(
      fc.property(longitudeDeg, latitudeDeg, radiiM, (lonDeg, latDeg, distancesM) => {
        const positions = distancesM.map((radiusM, i): LonLat => {
          const { lon2, lat2 } = judge.Direct(latDeg, lonDeg, (360 * i) / distancesM.length, radiusM);
          return [lon2!, lat2!];
        });
        const area = areaM2(toAreaXY(planeOf(polygonOf(positions)), polygonOf(positions)));
        const error = Math.abs(area / judgedAreaM2(positions) - 1);
        expect(error).toBeLessThan(2e-7);
      }),
    );
  });

  it("measures a kilometre in any direction within 7 cm of GeographicLib", () => {
    fc.assert(
      fc.property(longitudeDeg, latitudeDeg, bearingDeg, (lonDeg, latDeg, azimuthDeg) => {
        const { lon2, lat2 } = judge.Direct(latDeg, lonDeg, azimuthDeg, 1000);
        const measuredM = distanceM([0, 0], createPlane(lonDeg, latDeg).toXY([lon2!, lat2!]));
        expect(Math.abs(measuredM - 1000)).toBeLessThan(0.07);
      }),
    );
  });

  it("leads back to where it came from, also across the 180th meridian", () => {
    const plane = createPlane(179.999, -17);
    expect(plane.toXY([-179.999, -17])[0]).toBeCloseTo(plane.toXY([180.001, -17])[0], 6);
    const [lonDeg, latDeg] = plane.toPosition(plane.toXY([-179.998, -17.002]));
    expect(lonDeg).toBeCloseTo(-179.998, 9);
    expect(latDeg).toBeCloseTo(-17.002, 9);
  });
});
