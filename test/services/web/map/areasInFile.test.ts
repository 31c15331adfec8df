import { describe, expect, it } from "vitest";
import { areasInGeoJson } from "../../../../services/web/app/map/draw/areasInGeoJson.ts";
import { areasInKml, ringInText, type XmlElement } from "../../../../services/web/app/map/draw/areasInKml.ts";

const square = [
  [100, 0],
  [101, 0],
  [101, 1],
  [100, 1],
  [100, 0],
];

describe("ground in GeoJSON", () => {
  it("is found in the example of the standard, among other things", () => {
    // RFC 7946, section 1.5: a collection of a point, a line and a polygon.
    const document = {
      type: "FeatureCollection",
      features: [
        { type: "Feature", geometry: { type: "Point", coordinates: [102, 0.5] }, properties: { prop0: "value0" } },
        {
          type: "Feature",
          geometry: {
            type: "LineString",
            coordinates: [
              [102, 0],
              [103, 1],
              [104, 0],
              [105, 1],
            ],
          },
          properties: { prop0: "value0", prop1: 0 },
        },
        {
          type: "Feature",
          geometry: { type: "Polygon", coordinates: [square] },
          properties: { prop0: "value0", prop1: { this: "that" } },
        },
      ],
    };
    expect(areasInGeoJson(document)).toEqual({
      ok: true,
      areas: [{ name: null, geometry: { type: "Polygon", coordinates: [square] } }],
    });
  });

  it("is found bare, in several, with heights, and under its name", () => {
    const high = square.map((position) => [...position, 230]);
    expect(areasInGeoJson({ type: "Polygon", coordinates: [high] })).toMatchObject({
      areas: [{ name: null, geometry: { coordinates: [square] } }],
    });
    const named = { type: "Feature", properties: { name: "Øvre Åker" } };
    const multi = { type: "MultiPolygon", coordinates: [[square], [square]] };
    const collection = { type: "GeometryCollection", geometries: [multi, { type: "Polygon", coordinates: [square] }] };
    expect(areasInGeoJson({ ...named, geometry: collection })).toMatchObject({
      areas: [
        { name: "Øvre Åker", geometry: { type: "MultiPolygon" } },
        { name: "Øvre Åker", geometry: { type: "Polygon" } },
      ],
    });
  });

  it.each([
    [
      {
        type: "Polygon",
        coordinates: [
          [
            [100, 0],
            [101, 0],
            [100, 0],
          ],
        ],
      },
      "coordinates[0]",
    ],
    [
      { type: "Feature", geometry: { type: "Polygon", coordinates: [[...square.slice(0, 2), [0, 91], ...square]] } },
      "geometry.coordinates[0][2]",
    ],
    [{ type: "MultiPolygon", coordinates: [[square], [[["1", 2], ...square]]] }, "coordinates[1][0][0]"],
    [{ type: "FeatureCollection", features: null }, "features"],
  ])("that is faulty is refused with its place %#", (document, place) => {
    expect(areasInGeoJson(document)).toMatchObject({ ok: false, words: expect.stringContaining(` ${place}:`) });
  });

  it("in another coordinate system is refused, and nothing is said to be nothing", () => {
    const crs = { type: "name", properties: { name: "urn:ogc:def:crs:EPSG::25832" } };
    expect(areasInGeoJson({ type: "Polygon", coordinates: [square], crs })).toMatchObject({
      ok: false,
      words: expect.stringContaining("EPSG::25832"),
    });
    for (const nothing of [null, 3, "x", [], {}, { type: "Point", coordinates: [1, 2] }]) {
      expect(areasInGeoJson(nothing)).toEqual({ ok: false, words: "There is no ground with an outline in this file." });
    }
  });
});

const element = (localName: string, ...children: (XmlElement | string)[]): XmlElement => ({
  localName,
  children: children.filter((child) => typeof child !== "string"),
  textContent: children.map((child) => (typeof child === "string" ? child : child.textContent)).join(""),
});
const boundary = (name: string, text: string) => element(name, element("LinearRing", element("coordinates", text)));
const outer = "\n  100,0,12 101,0,12\n\t101,1,12 100,1,12 100,0,12 ";
const inner = "100.2,0.2 100.2,0.8 100.8,0.8 100.8,0.2 100.2,0.2";

describe("ground in KML", () => {
  it("is found in folders, with holes, and several polygons of one placemark are one", () => {
    const polygon = element("Polygon", boundary("outerBoundaryIs", outer), boundary("innerBoundaryIs", inner));
    const root = element(
      "kml",
      element(
        "Document",
        element("name", "Farm"),
        element("Folder", element("Placemark", element("name", " Long Acre "), polygon)),
        element("Placemark", element("MultiGeometry", polygon, polygon)),
        element("Placemark", element("Point", element("coordinates", "1,2"))),
      ),
    );
    const read = areasInKml(root);
    expect(read).toMatchObject({
      ok: true,
      areas: [
        { name: "Long Acre", geometry: { type: "Polygon" } },
        { name: null, geometry: { type: "MultiPolygon" } },
      ],
    });
    expect(read.ok && read.areas[0]!.geometry.coordinates[0]).toEqual(square);
    expect(read.ok && read.areas[0]!.geometry.coordinates).toHaveLength(2);
  });

  it.each([
    "100,0 101,0 101,1",
    "100;0 101;0 101;1 100;0",
    "100,0 101,95 101,1 100,0",
    "100, 0 101, 0 101, 1 100, 0",
    "",
  ])("is refused where its coordinates are none: %s", (text) => {
    expect(ringInText(text).ok).toBe(false);
    const root = element("kml", element("Placemark", element("Polygon", boundary("outerBoundaryIs", text))));
    expect(areasInKml(root).ok).toBe(false);
  });
});
