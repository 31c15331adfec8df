import { beforeAll, describe, expect, it } from "vitest";
import { longNamedOperation } from "../../support/longNames.ts";
import { openApiJudge } from "../../support/openApiJudge.ts";
import { pdfText, unspaced } from "../../support/pdfText.ts";
import { publishedPlan, publishedView } from "../../support/publishedView.ts";
import { type Shown, serveAccess } from "../access/serveAccess.ts";

const { call, person, origin, store } = serveAccess();
let judge: ReturnType<typeof openApiJudge>;
let dispatcher: Shown;
let lead: Shown;
let operationId: string;
let planId: string;
const date = "2027-03-26";

beforeAll(async () => {
  judge = openApiJudge((await (await fetch(`${origin()}/api/openapi.json`)).json()) as Record<string, unknown>);
  ({ operationId, planId } = await publishedView(store(), longNamedOperation));
  dispatcher = await (await person("dispatcher", ["dispatcher"])).session();
  lead = await (await person("lead", ["crewLead"], [{ operationId, crewId: "K1" }])).session();
});

/** A file, judged by the OpenAPI document before it is looked at. */
async function file(path: string, shown: Shown = dispatcher) {
  const response = await fetch(`${origin()}${path}`, { headers: shown });
  const bytes = Buffer.from(await response.arrayBuffer());
  judge("GET", path, response, bytes.toString());
  return { status: response.status, headers: response.headers, bytes, text: bytes.toString() };
}

const planned = () => `/api/plans/${planId}`;
const published = (crewId = "K1") => `/api/operations/${operationId}/crews/${crewId}/days/${date}`;

describe("papers over HTTP", () => {
  it.each([
    ["week.pdf", "application/pdf", ".pdf"],
    ["stops.csv", "text/csv; charset=utf-8", "stops.csv"],
    ["orders.csv", "text/csv; charset=utf-8", "orders.csv"],
    ["conflicts.csv", "text/csv; charset=utf-8", "conflicts.csv"],
    ["crew-days.csv", "text/csv; charset=utf-8", "crew-days.csv"],
    ["fields.geojson", "application/geo+json; charset=utf-8", ".geojson"],
    ["fields.kml", "application/vnd.google-earth.kml+xml; charset=utf-8", ".kml"],
    ["fields.gpx", "application/gpx+xml; charset=utf-8", ".gpx"],
    [`crews/K1/days/${date}/sheet.pdf`, "application/pdf", `${date}.pdf`],
    [`crews/K1/days/${date}/map.geojson`, "application/geo+json; charset=utf-8", `${date}.geojson`],
    [`crews/K1/days/${date}/map.kml`, "application/vnd.google-earth.kml+xml; charset=utf-8", `${date}.kml`],
    [`crews/K1/days/${date}/map.gpx`, "application/gpx+xml; charset=utf-8", `${date}.gpx`],
  ])("of a plan: %s", async (path, mediaType, ending) => {
    const told = await file(`${planned()}/${path}`);
    expect(told.status).toBe(200);
    expect(told.headers.get("content-type")).toBe(mediaType);
    expect(told.headers.get("content-disposition")).toContain(`${ending}"`);
    expect(told.bytes.length).toBeGreaterThan(100);
    const again = await fetch(`${origin()}${planned()}/${path}`, {
      headers: { ...dispatcher, "if-none-match": told.headers.get("etag")! },
    });
    expect(again.status).toBe(304);
  });

  it("are the crew's own as published, under its accented name, and nobody else's", async () => {
    for (const name of ["sheet.pdf", "map.geojson", "map.kml", "map.gpx"]) {
      const told = await file(`${published()}/${name}`, lead);
      expect(told.status).toBe(200);
      expect(told.headers.get("content-disposition")).toContain("filename*=UTF-8''%C5%81%C3%B3d%C5%BA-%C3%91and%C3%BA");
      expect((await file(`${published("K2")}/${name}`, lead)).status).toBe(403);
    }
    expect((await file(`${published()}/sheet.pdf`, {})).status).toBe(401);
    const [first] = await pdfText((await file(`${published()}/sheet.pdf?size=letter&units=us`, lead)).bytes);
    expect(first).toContain("Publication 1, plan");
    expect(first).toContain("gal water");
  });

  it("know what is not there, and what is no size of paper", async () => {
    expect((await file(`${published().replace(date, "2027-03-27")}/sheet.pdf`)).status).toBe(404);
    expect((await file(`${planned()}/crews/nobody/days/${date}/map.gpx`)).status).toBe(404);
    expect((await file("/api/plans/00000000-0000-4000-8000-000000000000/week.pdf")).status).toBe(404);
    expect((await file(`${planned()}/week.pdf?size=a3`)).status).toBe(400);
  });

  it("say of a plan that another was published since", async () => {
    const { operationId: other, planId: before, plan } = await publishedView(store());
    const words = async () =>
      (await pdfText((await file(`/api/plans/${before}/crews/K1/days/${date}/sheet.pdf`)).bytes)).join(" ");
    expect(await words()).not.toContain("REPLACED");
    await publishedPlan(store(), other, plan, 1);
    expect(await words()).toContain("Publication 1, REPLACED BY 2");
  });
});

interface MadeLink {
  readonly crewLink: { readonly id: string };
  readonly address: string;
  readonly calendarAddress: string;
}

describe("a crew's calendar over HTTP", () => {
  const makeLink = async () =>
    (await call<MadeLink>("POST", `/api/operations/${operationId}/crews/K1/links`, dispatcher, {})).body;
  const pathOf = (address: string) => new URL(address).pathname;

  it("is read by its address alone, until the link is withdrawn", async () => {
    const { calendarAddress, crewLink } = await makeLink();
    const told = await file(pathOf(calendarAddress), {});
    expect(told.status).toBe(200);
    expect(told.headers.get("content-type")).toBe("text/calendar; charset=utf-8");
    expect(told.text.startsWith("BEGIN:VCALENDAR\r\n")).toBe(true);
    expect(unspaced(told.text)).toContain(`UID:${operationId}-K1-${date}@calmhour`);
    expect(told.text).toContain("SEQUENCE:1");
    await call("DELETE", `/api/crew-links/${crewLink.id}`, dispatcher);
    expect((await file(pathOf(calendarAddress), {})).status).toBe(404);
  });

  it("is not read by a link that is cut short, and does not tell whether there was one", async () => {
    const path = pathOf((await makeLink()).calendarAddress);
    const cut = await file(path.replace(/.{3}\/crew/, "/crew"), {});
    expect(cut.status).toBe(404);
    expect(cut.text).toContain("expired, was withdrawn or is not whole");
  });
});

describe("application records as files", () => {
  it("are a table with its heads where there is no record yet, the crew's own too", async () => {
    const all = await file(`/api/operations/${operationId}/application-records.csv`);
    expect(all.status).toBe(200);
    expect(all.text.split("\r\n")[0]).toContain("registration_number");
    const own = await file(`/api/operations/${operationId}/crews/K1/application-records.csv`, lead);
    expect(own.text).toBe(all.text);
    expect((await file(`/api/operations/${operationId}/application-records.csv`, lead)).status).toBe(403);
  });

  it("come on paper once a crew has reported", async () => {
    const sheet = (await call<{ sheet: { stops: { blockId: string; areaHa: number }[] } }>("GET", published(), lead))
      .body.sheet;
    const { blockId, areaHa } = sheet.stops[0]!;
    const report = (number: number, clock: string, more: object) => ({
      id: `00000000-0000-4000-8000-00000000000${number}`,
      publication: 1,
      blockId,
      at: `${date}T${clock}:00Z`,
      ...more,
    });
    const reports = [report(1, "06:25", { kind: "started" }), report(2, "07:20", { kind: "finished", doneHa: areaHa })];
    const sent = await call("POST", `${published()}/reports`, lead, { reports });
    expect(sent.status).toBe(200);
    const listed = await call<{ applicationRecords: { id: string }[] }>(
      "GET",
      `/api/operations/${operationId}/crews/K1/application-records`,
      lead,
    );
    const [record] = listed.body.applicationRecords;
    const paper = await file(
      `/api/operations/${operationId}/crews/K1/application-records/${record!.id}/record.pdf`,
      lead,
    );
    expect(paper.status).toBe(200);
    const [first] = await pdfText(paper.bytes);
    expect(first).toContain("Record of an application");
    const table = await file(`/api/operations/${operationId}/application-records.csv?from=${date}`);
    expect(table.text).toContain(record!.id);
  });
});
