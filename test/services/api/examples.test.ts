import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { beforeAll, describe, expect, it } from "vitest";
import { examples } from "../../../services/api/examples.ts";
import { openApiDocument } from "../../../services/api/openApi.ts";
import type { Route } from "../../../services/api/route.ts";
import { routeTable } from "../../../services/api/routeTable.ts";
import { validateOperation } from "../../../shared/model/validate.ts";

type Content = Record<string, { example?: unknown }> | undefined;
type Operations = Record<
  string,
  Record<string, { requestBody?: { content: Content }; responses: Record<string, { content?: Content }> }>
>;

const document = openApiDocument(routeTable);
const ajv = new Ajv2020({ strict: false, allErrors: true });
beforeAll(() => {
  addFormats.default(ajv);
  ajv.addSchema(document, "api");
});

/** What is wrong with the example at a place of the document, by the schema beside it; null: nothing. */
function faultsAt(...place: string[]): string | null {
  const pointer = [...place, "schema"].map((step) =>
    encodeURIComponent(step.replaceAll("~", "~0").replaceAll("/", "~1")),
  );
  const validate = ajv.getSchema(`api#/${pointer.join("/")}`)!;
  const content = place.reduce((at, step) => (at as Record<string, unknown>)[step], document as unknown);
  return validate((content as { example: unknown }).example) ? null : ajv.errorsText(validate.errors);
}

/** Those with something to show: streams of events and answers without a body have nothing. */
const hasJson = ({ answers }: Route) =>
  Object.entries(answers).some(([status, { mediaType }]) => status !== "204" && mediaType === "application/json");

describe("examples in the OpenAPI document", () => {
  it.each(routeTable.filter(({ id }) => examples[id] !== undefined).map((route) => [route.id, route] as const))(
    "of %s fit what the document says",
    (id, { path, method }) => {
      const operation = (document.paths as Operations)[path]![method]!;
      const json = "application/json";
      const body = operation.requestBody?.content?.[json]?.example;
      if (body !== undefined) expect(faultsAt("paths", path, method, "requestBody", "content", json)).toBeNull();
      expect(body).toEqual(examples[id]!.body);
      const { answer } = examples[id]!;
      if (answer === undefined) return;
      const status = String(answer.status);
      expect(operation.responses[status]!.content![json]!.example).toEqual(answer.body);
      expect(faultsAt("paths", path, method, "responses", status, "content", json)).toBeNull();
    },
  );

  it("are there for nearly all routes, and for none that there is not", () => {
    const ids = routeTable.map(({ id }) => id);
    expect(Object.keys(examples).filter((id) => !ids.includes(id))).toEqual([]);
    // Those that came last are shown when the examples are written the next time.
    const bare = routeTable.filter((route) => hasJson(route) && examples[route.id]?.answer === undefined);
    expect(bare.length).toBeLessThan(routeTable.length / 5);
  });

  it("can be sent as they stand where they are whole operations", () => {
    expect(validateOperation(examples.importOperation!.body)).toMatchObject({ ok: true });
  });
});
