import type { LonLat } from "../../../../../shared/geo/plane.ts";
import { drawWords } from "../../strings/draw.ts";
import { type AreaInFile, type AreasInFile, areaOf, isPosition } from "./areasInFile.ts";

/** As much of an element of XML as is asked for; a browser's own fits. */
export interface XmlElement {
  readonly localName: string;
  readonly children: Iterable<XmlElement>;
  readonly textContent: string | null;
}

/**
 * Polygons of a KML document (OGC 12-007r2, KML 2.3: 10.8 Polygon, 10.5 LinearRing, 10.9 MultiGeometry; MEMORY of the numbers). Those of one placemark are one piece of ground. Elements are known by their
 * local names, since older files have other namespaces.
 */
export function areasInKml(root: XmlElement): AreasInFile {
  const areas: AreaInFile[] = [];
  for (const placemark of within(root, "Placemark")) {
    const polygons: LonLat[][][] = [];
    for (const polygon of within(placemark, "Polygon")) {
      const rings: LonLat[][] = [];
      for (const boundary of ["outerBoundaryIs", "innerBoundaryIs"]) {
        for (const edge of within(polygon, boundary)) {
          for (const text of within(edge, "coordinates")) {
            const ring = ringInText(text.textContent ?? "");
            if (!ring.ok) return { ok: false, words: drawWords.fileFaults.coordinates(ring.text) };
            rings.push(ring.positions);
          }
        }
      }
      if (rings.length > 0) polygons.push(rings);
    }
    const [name] = [...placemark.children].filter(({ localName }) => localName === "name");
    if (polygons.length > 0) areas.push({ name: name?.textContent?.trim() || null, geometry: areaOf(polygons) });
  }
  return areas.length === 0 ? { ok: false, words: drawWords.fileFaults.noArea } : { ok: true, areas };
}

/** KML 2.3, kml:coordinates: tuples of longitude, latitude and perhaps height, parted by spaces. */
export function ringInText(
  text: string,
): { readonly ok: true; readonly positions: LonLat[] } | { readonly ok: false; readonly text: string } {
  const tuples = text.trim().split(/\s+/);
  const positions: LonLat[] = [];
  for (const tuple of tuples) {
    const position = tuple.split(",").map((part) => (part === "" ? Number.NaN : Number(part)));
    if (!isPosition(position)) return { ok: false, text: tuple.slice(0, 60) };
    positions.push([position[0], position[1]]);
  }
  return positions.length >= 4 ? { ok: true, positions } : { ok: false, text: text.trim().slice(0, 60) };
}

function* within(element: XmlElement, name: string): Generator<XmlElement> {
  for (const child of element.children) {
    if (child.localName === name) yield child;
    else yield* within(child, name);
  }
}
