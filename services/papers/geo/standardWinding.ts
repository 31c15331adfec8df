import type { AreaLike } from "../../../shared/geo/convert.ts";
import type { LonLat } from "../../../shared/geo/plane.ts";

/** RFC 7946, section 3.1.6: outer rings run counter-clockwise, holes clockwise, whichever way they were drawn. */
export function standardWinding(geometry: AreaLike): AreaLike {
  return geometry.type === "Polygon"
    ? { type: "Polygon", coordinates: woundRight(geometry.coordinates) }
    : { type: "MultiPolygon", coordinates: geometry.coordinates.map(woundRight) };
}

function woundRight(rings: readonly (readonly LonLat[])[]): LonLat[][] {
  return rings.map((ring, at) => (turnsLeft(ring) === (at === 0) ? [...ring] : ring.toReversed()));
}

/** By the signed area (shoelace); degrees will do, since only its sign is asked. */
function turnsLeft(ring: readonly LonLat[]): boolean {
  let doubled = 0;
  ring.forEach(([lonDeg, latDeg], at) => {
    const [nextLonDeg, nextLatDeg] = ring[(at + 1) % ring.length]!;
    doubled += lonDeg * nextLatDeg - nextLonDeg * latDeg;
  });
  return doubled > 0;
}
