import { readFileSync } from "node:fs";
import { join } from "node:path";
import { XmlDocument, XsdValidator } from "libxml2-wasm";
import { afterAll, describe, expect, it } from "vitest";
import { dayMapDocument, mapFormats, weekMapDocument } from "../../../services/papers/geo/mapFiles.ts";
import { standardWinding } from "../../../services/papers/geo/standardWinding.ts";
import { degrees, xmlText } from "../../../services/papers/geo/xml.ts";
import type { LonLat } from "../../../shared/geo/plane.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { dayMap } from "../../../shared/plan/dayMap.ts";
import { weekMap } from "../../../shared/plan/weekMap.ts";
import { hazardsOfLongAcre } from "../../support/hazards.ts";
import { accented, longName, longNamedOperation } from "../../support/longNames.ts";
import { viewPlan } from "../../support/viewPlan.ts";

const operation = withHazards(longNamedOperation());
const plan = viewPlan(operation);
const source = { planName: "1a2b3c4d", publication: 3, latest: 3, madeAt: new Date("2027-03-25T18:00:00Z") };
const map = dayMap(operation, plan, "K1", "2027-03-26")!;
const documents = {
  day: dayMapDocument(map, `${accented} K1`, source),
  week: weekMapDocument(weekMap(operation, plan), operation.settings.name, source),
} as const;

function withHazards(of: Operation): Operation {
  const [field, ...others] = of.fields.features;
  const properties = { ...field!.properties, hazards: [...hazardsOfLongAcre] };
  return { ...of, fields: { ...of.fields, features: [{ ...field!, properties }, ...others] } };
}

const schemaOf = (name: string) => {
  const document = XmlDocument.fromBuffer(readFileSync(join(import.meta.dirname, "../../data/schemas", name)));
  const validator = XsdValidator.fromDoc(document);
  const dispose = () => {
    validator.dispose();
    document.dispose();
  };
  return { validator, dispose };
};
const schemas = { gpx: schemaOf("gpx11.xsd"), kml: schemaOf("kml23.xsd") };
afterAll(() => {
  for (const { dispose } of Object.values(schemas)) dispose();
});

function judge(format: "gpx" | "kml", text: string): void {
  const document = XmlDocument.fromString(text);
  try {
    schemas[format].validator.validate(document);
  } finally {
    document.dispose();
  }
}

describe.each(["day", "week"] as const)("the %s for other programs", (which) => {
  const document = documents[which];

  it("is valid KML and GPX", () => {
    judge("kml", mapFormats.kml.write(document));
    judge("gpx", mapFormats.gpx.write(document));
  });

  it("keeps accented and long names, and signs that XML takes for its own", () => {
    for (const format of ["kml", "gpx"] as const) {
      const parsed = XmlDocument.fromString(mapFormats[format].write(document));
      const names = parsed.find("//*[local-name()='name']").map((node) => node.content);
      parsed.dispose();
      const told = names.join("\n");
      expect(told).toContain(accented);
      expect(told).toContain(longName);
    }
    const { features } = JSON.parse(mapFormats.geojson.write(document)) as {
      features: { properties: { name: string } }[];
    };
    expect(features.map(({ properties }) => properties.name)).toContain(longName);
  });

  it("is GeoJSON by RFC 7946", () => {
    const collection = JSON.parse(mapFormats.geojson.write(document));
    // Section 3.3.
    expect(collection.type).toBe("FeatureCollection");
    // Section 4: no crs member, since WGS 84 is meant.
    expect("crs" in collection).toBe(false);
    const ids = new Set<string>();
    for (const feature of collection.features) {
      // Section 3.2.
      expect(feature.type).toBe("Feature");
      expect(feature.properties).toBeTypeOf("object");
      ids.add(feature.id);
      judgeGeometry(feature.geometry);
    }
    expect(ids.size).toBe(collection.features.length);
  });
});

type Geometry = { type: string; coordinates: unknown };

/** RFC 7946, section 3.1. */
function judgeGeometry({ type, coordinates }: Geometry): void {
  if (type === "Point") judgePosition(coordinates as LonLat);
  else if (type === "LineString") judgeLine(coordinates as LonLat[]);
  else if (type === "MultiLineString") eachOf(coordinates as LonLat[][], judgeLine);
  else if (type === "Polygon") judgePolygon(coordinates as LonLat[][]);
  else if (type === "MultiPolygon") eachOf(coordinates as LonLat[][][], judgePolygon);
  else expect.fail(`${type} is no geometry of ours`);
}

function eachOf<T>(things: readonly T[], judgeOne: (thing: T) => void): void {
  for (const thing of things) judgeOne(thing);
}

/** Longitude first (3.1.1). The operation lies about 10.5 degrees east and 52 north, so that the two cannot be taken for each other. */
function judgePosition([lonDeg, latDeg]: LonLat): void {
  expect(Math.abs(lonDeg - operation.settings.bases[0]!.lonDeg)).toBeLessThan(0.5);
  expect(Math.abs(latDeg - operation.settings.bases[0]!.latDeg)).toBeLessThan(0.5);
}

/** Two positions at least (3.1.4). */
function judgeLine(line: readonly LonLat[]): void {
  expect(line.length).toBeGreaterThanOrEqual(2);
  eachOf(line, judgePosition);
}

/** Closed rings of four positions at least, the outer one counter-clockwise, holes clockwise (3.1.6). */
function judgePolygon(rings: readonly (readonly LonLat[])[]): void {
  rings.forEach((ring, at) => {
    expect(ring.length).toBeGreaterThanOrEqual(4);
    expect(ring.at(-1)).toEqual(ring[0]);
    eachOf(ring, judgePosition);
    // Sum over the edges of (x2 - x1)(y2 + y1): negative for counter-clockwise.
    const turn = ring.slice(1).reduce((sum, [lonDeg, latDeg], before) => {
      const [fromLonDeg, fromLatDeg] = ring[before]!;
      return sum + (lonDeg - fromLonDeg) * (latDeg + fromLatDeg - 2 * ring[0]![1]);
    }, 0);
    expect(turn < 0).toBe(at === 0);
  });
}

describe("what is in the files of a day", () => {
  it("is every stop's passes in the order flown, and the way from place to place", () => {
    const gpx = XmlDocument.fromString(mapFormats.gpx.write(documents.day));
    const count = (path: string) => gpx.find(path).length;
    const pieces = map.stops.reduce((sum, { passes }) => sum + passes.length, 0);
    expect(count("//*[local-name()='trk'][*[local-name()='type']='passes']/*[local-name()='trkseg']")).toBe(pieces);
    expect(count("//*[local-name()='rtept']")).toBe(map.route.length + 1);
    const names = gpx.find("//*[local-name()='rtept']/*[local-name()='name']").map((node) => node.content);
    expect(names).toEqual([map.route[0]!.fromWords, ...map.route.map(({ toWords }) => toWords)]);
    gpx.dispose();
    const { features } = JSON.parse(mapFormats.geojson.write(documents.day));
    const passes = features.filter(({ properties }: { properties: { kind: string } }) => properties.kind === "passes");
    expect(passes.map(({ geometry }: { geometry: Geometry }) => geometry.coordinates)).toEqual(
      map.stops.map((stop) => stop.passes),
    );
  });
});

describe("hazards in the files", () => {
  it("are features with kind, height and note, lines as lines", () => {
    const { features } = JSON.parse(mapFormats.geojson.write(documents.day));
    const hazards = features.filter(({ properties }: { properties: { kind: string } }) => properties.kind === "hazard");
    expect(hazards.map(({ geometry }: { geometry: Geometry }) => geometry)).toEqual(
      hazardsOfLongAcre.map(({ geometry }) => geometry),
    );
    expect(hazards[1].properties).toEqual({
      placeKind: "wire",
      heightM: 11.2,
      kind: "hazard",
      name: "Wire, 11.2 m high",
      description: "hazard: Low-voltage line, no markers: <keep> below & clear",
    });
    expect(JSON.parse(mapFormats.geojson.write(documents.week)).features).toEqual(expect.arrayContaining(hazards));
  });

  it("are waypoints and tracks of GPX, and a folder of KML", () => {
    const namesAt = (format: "gpx" | "kml", path: string) => {
      const parsed = XmlDocument.fromString(mapFormats[format].write(documents.day));
      const names = parsed.find(path).map(({ content }) => content);
      parsed.dispose();
      return names;
    };
    const ofType = (element: string) =>
      `//*[local-name()='${element}'][*[local-name()='type']='hazard']/*[local-name()='name']`;
    expect(namesAt("gpx", ofType("wpt"))).toEqual(["Mast, 24 m high", "Tree, height not known"]);
    expect(namesAt("gpx", ofType("trk"))).toEqual(["Wire, 11.2 m high"]);
    const inFolder = "//*[local-name()='Folder'][*[local-name()='name']='Hazards']/*[local-name()='Placemark']";
    expect(namesAt("kml", `${inFolder}/*[local-name()='name']`)).toHaveLength(3);
  });
});

describe("what the formats ask for", () => {
  it("the schemas refuse what is wrong", () => {
    const good = mapFormats.gpx.write(documents.day);
    expect(() => judge("gpx", good.replace(/lat="5/, 'lat="95'))).toThrow();
    expect(() => judge("gpx", good.replace('version="1.1"', 'version="1.0"'))).toThrow();
    const kml = mapFormats.kml.write(documents.day);
    expect(() => judge("kml", kml.replace("<styleUrl>", "<coordinates>1,2</coordinates><styleUrl>"))).toThrow();
    expect(() => judge("kml", kml.replace(/<coordinates>[^<]*/, "<coordinates>1;2"))).toThrow();
  });

  it("rings that were drawn the other way round are turned: RFC 7946, section 3.1.6", () => {
    const clockwise: LonLat[] = [
      [0, 0],
      [0, 1],
      [1, 1],
      [1, 0],
      [0, 0],
    ];
    const turned = standardWinding({ type: "Polygon", coordinates: [clockwise, clockwise.toReversed()] });
    expect(turned.coordinates).toEqual([clockwise.toReversed(), clockwise]);
  });

  it("numbers have no exponent, and no sign that XML cannot have gets in", () => {
    expect([degrees(1e-9), degrees(-0.00000001), degrees(-10.5), degrees(180)]).toEqual(["0", "0", "-10.5", "180"]);
    expect(xmlText('a\u0000\u001b<&>"\ud800z\u{1F600}')).toBe("a&lt;&amp;&gt;&quot;z\u{1F600}");
  });
});
