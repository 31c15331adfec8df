import type { LonLat } from "../../../shared/geo/plane.ts";
import type { FeatureGeometry, MapDocument, MapFeature } from "./features.ts";
import { degrees, element, xmlHead, xmlText } from "./xml.ts";

/**
 * GPX 1.1. It knows no areas: outlines of fields are tracks, a segment for each ring. Passes are a track for each stop, a segment for each
 * piece with the gear on. The day's way is one route from place to place; pads, bases, water, places and hazards that are points are waypoints, wires tracks.
 */
export function gpxText({ name, words, features }: MapDocument): string {
  const points = features.filter(({ geometry }) => geometry.type === "Point");
  const drives = features.filter(({ kind }) => kind === "route");
  const tracks = features.filter(({ geometry, kind }) => geometry.type !== "Point" && kind !== "route");
  return [
    xmlHead,
    '<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="Calmhour">',
    element("metadata", element("name", xmlText(name)) + element("desc", xmlText(words))),
    ...points.map(waypoint),
    ...(drives.length === 0 ? [] : [route(name, drives)]),
    ...tracks.map(track),
    "</gpx>",
    "",
  ].join("\n");
}

/** Longitudes are under 180 (longitudeType). */
function at(name: string, [lonDeg, latDeg]: LonLat, content: string): string {
  const place = `lat="${degrees(latDeg)}" lon="${degrees(lonDeg === 180 ? -180 : lonDeg)}"`;
  return content === "" ? `<${name} ${place}/>` : `<${name} ${place}>${content}</${name}>`;
}

const told = ({ kind, name, words }: MapFeature) =>
  element("name", xmlText(name)) + element("desc", xmlText(words)) + element("type", kind);

function waypoint(feature: MapFeature): string {
  return at("wpt", feature.geometry.coordinates as LonLat, told(feature));
}

/** Where one drive ends the next begins: a point is named as the place, and says by which drive it is reached. */
function route(name: string, drives: readonly MapFeature[]): string {
  const ways = drives.map(({ facts, geometry, words }) => {
    return { line: geometry.coordinates as readonly LonLat[], from: `${facts.from}`, to: `${facts.to}`, words };
  });
  const points = [
    ...ways.slice(0, 1).map(({ from, line }) => at("rtept", line[0]!, element("name", xmlText(from)))),
    ...ways.map(({ line, to, words }) =>
      at("rtept", line.at(-1)!, element("name", xmlText(to)) + element("desc", xmlText(words))),
    ),
  ];
  return element("rte", element("name", xmlText(name)) + points.join(""));
}

function track(feature: MapFeature): string {
  const segments = linesOf(feature.geometry).map((line) =>
    element("trkseg", line.map((position) => at("trkpt", position, "")).join("")),
  );
  return element("trk", told(feature) + segments.join(""));
}

function linesOf(geometry: FeatureGeometry): readonly (readonly LonLat[])[] {
  switch (geometry.type) {
    case "Point":
      return [];
    case "LineString":
      return [geometry.coordinates];
    case "MultiLineString":
    case "Polygon":
      return geometry.coordinates;
    case "MultiPolygon":
      return geometry.coordinates.flat();
  }
}
