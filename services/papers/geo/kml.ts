import type { LonLat } from "../../../shared/geo/plane.ts";
import { type FeatureGeometry, type FeatureKind, featureKinds, type MapDocument, type MapFeature } from "./features.ts";
import { degrees, element, xmlHead, xmlText } from "./xml.ts";

const folderNames: Readonly<Record<FeatureKind, string>> = {
  field: "Fields",
  ground: "Ground to be treated",
  passes: "Passes",
  route: "The way",
  pad: "Pads",
  base: "Bases",
  water: "Water",
  sensitive: "Sensitive places",
  hazard: "Hazards",
};

/** Seen on pictures from the air and on white paper alike. Line width and colours as KML writes them: alpha, blue, green, red. */
const looks: Readonly<Record<FeatureKind, readonly [widthPx: number, line: string, fill: string]>> = {
  field: [2, "ff00a5ff", "0000a5ff"],
  ground: [1, "ff30a0ff", "4030a0ff"],
  passes: [1, "ffd07000", "00000000"],
  route: [2, "ff202020", "00000000"],
  pad: [1, "ffffffff", "00000000"],
  base: [1, "ffffffff", "00000000"],
  water: [1, "ffffffff", "00000000"],
  sensitive: [2, "ff2020e0", "502020e0"],
  hazard: [4, "ff00d0ff", "00000000"],
};

/**
 * OGC KML 2.3 (12-007r2), whose namespace is still that of 2.2. Members stand in the order of 2.2, which 2.3 allows, too, so that older
 * readers understand it. A folder for each kind of thing, so that they can be shown and hidden.
 */
export function kmlText({ name, words, features }: MapDocument): string {
  const folders = featureKinds.flatMap((kind) => {
    const ofKind = features.filter((feature) => feature.kind === kind);
    return ofKind.length === 0
      ? []
      : [element("Folder", element("name", folderNames[kind]) + ofKind.map(placemark).join(""))];
  });
  const styles = featureKinds.filter((kind) => features.some((feature) => feature.kind === kind)).map(style);
  return [
    xmlHead,
    '<kml xmlns="http://www.opengis.net/kml/2.2" version="2.3">',
    element(
      "Document",
      [element("name", xmlText(name)), element("description", xmlText(words)), ...styles, ...folders].join("\n"),
    ),
    "</kml>",
    "",
  ].join("\n");
}

function style(kind: FeatureKind): string {
  const [widthPx, line, fill] = looks[kind];
  const lineStyle = element("LineStyle", element("color", line) + element("width", `${widthPx}`));
  return `<Style id="${kind}">${lineStyle}${element("PolyStyle", element("color", fill))}</Style>`;
}

function placemark({ facts, geometry, kind, name, words }: MapFeature): string {
  const data = Object.entries(facts).map(
    ([fact, value]) => `<Data name="${xmlText(fact)}">${element("value", xmlText(`${value}`))}</Data>`,
  );
  return element(
    "Placemark",
    [
      element("name", xmlText(name)),
      element("description", xmlText(words)),
      element("styleUrl", `#${kind}`),
      ...(data.length === 0 ? [] : [element("ExtendedData", data.join(""))]),
      geometryText(geometry),
    ].join(""),
  );
}

function geometryText(geometry: FeatureGeometry): string {
  switch (geometry.type) {
    case "Point":
      return element("Point", coordinates([geometry.coordinates]));
    case "LineString":
      return lineText(geometry.coordinates);
    case "MultiLineString":
      return element("MultiGeometry", geometry.coordinates.map(lineText).join(""));
    case "Polygon":
      return polygonText(geometry.coordinates);
    case "MultiPolygon":
      return element("MultiGeometry", geometry.coordinates.map(polygonText).join(""));
  }
}

/** Lines lie on the ground all along, where they would otherwise cut through hills. */
const lineText = (line: readonly LonLat[]) => element("LineString", element("tessellate", "1") + coordinates(line));

function polygonText([outer, ...holes]: readonly (readonly LonLat[])[]): string {
  const ring = (positions: readonly LonLat[]) => element("LinearRing", coordinates(positions));
  return element(
    "Polygon",
    [
      element("outerBoundaryIs", ring(outer ?? [])),
      ...holes.map((hole) => element("innerBoundaryIs", ring(hole))),
    ].join(""),
  );
}

function coordinates(positions: readonly LonLat[]): string {
  return element("coordinates", positions.map(([lonDeg, latDeg]) => `${degrees(lonDeg)},${degrees(latDeg)}`).join(" "));
}
