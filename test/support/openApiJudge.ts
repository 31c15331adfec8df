import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";

type Json = Record<string, unknown>;

/** Judges answers by the OpenAPI document alone: is this status, of this type, with this body, promised there? */
export function openApiJudge(document: Json): (method: string, path: string, response: Response, text: string) => void {
  const ajv = new Ajv2020({ strict: false, allErrors: true });
  addFormats.default(ajv);
  ajv.addSchema(document, "api");
  const paths = document.paths as Record<string, Record<string, Json>>;
  const templates = Object.keys(paths).map((template) => ({
    template,
    pattern: new RegExp(`^${template.replace(/\{[^}]+\}/g, "[^/]+")}$`),
  }));

  return (method, path, response, text) => {
    const { pathname } = new URL(path, "http://calmhour");
    const template = templates.find(({ pattern }) => pattern.test(pathname))?.template;
    if (template === undefined) throw new Error(`the document knows no ${pathname}`);
    const responses = paths[template]![method.toLowerCase()]?.responses as Json | undefined;
    if (!responses) throw new Error(`the document knows no ${method} ${template}`);
    const answer = responses[String(response.status)] as { $ref?: string } | undefined;
    const steps =
      answer?.$ref === undefined
        ? ["paths", template, method.toLowerCase(), "responses", String(response.status)]
        : answer.$ref.split("/").slice(1);
    const promised = steps.reduce<Json | undefined>((at, step) => at?.[step] as Json | undefined, document) as
      | { content?: Json; headers?: Json }
      | undefined;
    if (!promised) throw new Error(`${method} ${template} does not promise ${response.status}: ${text}`);
    for (const name of Object.keys(promised.headers ?? {})) {
      if (!response.headers.has(name)) throw new Error(`${method} ${template} promises ${name}, which is not there`);
    }
    if (promised.content === undefined) {
      if (text !== "") throw new Error(`${method} ${template} promises no body: ${text}`);
      return;
    }
    const mediaType = (response.headers.get("content-type") ?? "").split(";")[0]!;
    if (!(mediaType in promised.content)) throw new Error(`${method} ${template} does not promise ${mediaType}`);
    const pointer = [...steps, "content", mediaType];
    const escaped = pointer.map((step) => encodeURIComponent(step.replaceAll("~", "~0").replaceAll("/", "~1")));
    const validate = ajv.getSchema(`api#/${escaped.join("/")}/schema`);
    if (!validate) throw new Error(`no schema at ${pointer.join(" ")}`);
    const body: unknown = mediaType.includes("json") ? JSON.parse(text) : text;
    if (!validate(body)) throw new Error(`${method} ${template}: ${ajv.errorsText(validate.errors)}`);
  };
}
