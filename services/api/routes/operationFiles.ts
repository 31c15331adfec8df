import {
  changedFilesSchema,
  filesAnswerSchema,
  lookQuerySchema,
  type OperationSummary,
  type OperationVersion,
  operationFilesSchema,
} from "../../../shared/contracts/operations.ts";
import type { Judged } from "../../store/changeOperation.ts";
import type { Store } from "../../store/store.ts";
import { everything } from "../../store/stretch.ts";
import { isAsKnown, versionEtag } from "../etags.ts";
import { filesAnswer, judgeFiles } from "../judgeFiles.ts";
import { changedMeanwhile, unknownThing } from "../problems.ts";
import { wholeBodyBytes } from "../readBody.ts";
import { type Answer, answers, ok, type Route, route } from "../route.ts";
import { none, operationParams } from "./parameters.ts";

const told = (description: string) => ({ ...answers(description, filesAnswerSchema), etagHeader: true });
const faultsByFile = "faults have the file and the place in it as their path";

/** By its name, as an import finds it. */
async function latestNamed(store: Store, name: string): Promise<OperationVersion | null> {
  const found = await store.listOperations({ ...everything, text: name });
  const known = found.find((one) => one.name === name);
  return known ? store.latestOperation(known.id) : null;
}

export const operationFileRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/operation-files",
    id: "importFiles",
    summary: `Import an operation as the files of a scenario's folder, or look first what would come of it; ${faultsByFile}`,
    params: none,
    query: lookQuerySchema,
    bodyBytesMax: wholeBodyBytes,
    body: { schema: operationFilesSchema, optional: false },
    answers: {
      200: answers("What would come of it, or nothing has changed", filesAnswerSchema),
      201: told("A new version"),
    },
    problems: [422],
    async handle({ store }, { body, call, query }) {
      const judged = judgeFiles(body.files, null);
      if (!judged.ok) return judged.refusal;
      const before = await latestNamed(store, judged.operation.settings.name);
      const { document = null, ...known } = before ?? {};
      if (query.look === "yes") {
        return ok(filesAnswer(judged, document, before && summaryOf(known as OperationSummary), false));
      }
      const { outcome, operation } = await store.importOperation(judged.operation, call.acting);
      const isNew = outcome === "newVersion";
      return {
        kind: "body",
        status: isNew ? 201 : 200,
        body: filesAnswer(judged, document, operation, isNew),
        etag: versionEtag(operation),
      };
    },
  }),

  route({
    method: "put",
    path: "/api/operations/{operationId}/files",
    id: "replaceFiles",
    summary: `Some files of an operation's folder anew, all else as it is, or look first what would come of it; ${faultsByFile}`,
    params: operationParams,
    query: lookQuerySchema,
    precondition: true,
    bodyBytesMax: wholeBodyBytes,
    body: { schema: changedFilesSchema, optional: false },
    answers: { 200: told("The version that has come of it, or what would") },
    problems: [404, 422],
    async handle({ store }, { body: { files, forecastIssued }, call, params: { operationId }, query }) {
      const settings = forecastIssued === undefined ? {} : { forecastIssued };
      let answered: ReturnType<typeof filesAnswer> | undefined;
      const judge = (latest: OperationVersion): Judged<Answer> => {
        if (call.precondition === null || !isAsKnown(call.precondition, versionEtag(latest))) {
          return { outcome: "refused", refusal: changedMeanwhile };
        }
        const judged = judgeFiles(files, { operation: latest.document, settings });
        if (!judged.ok) return { outcome: "refused", refusal: judged.refusal };
        answered = filesAnswer(judged, latest.document, summaryOf(latest), false);
        if (query.look === "yes") {
          return { outcome: "refused", refusal: ok(answered, versionEtag(latest)) };
        }
        return { outcome: "changed", document: judged.operation };
      };
      const made = await store.changeOperation(operationId, judge, call.acting, { files: Object.keys(files) });
      if (made.outcome === "unknown") return unknownThing("operation");
      if (made.outcome === "refused") return made.refusal;
      const { operation, outcome } = made;
      return ok({ ...answered, operation, stored: outcome === "newVersion" }, versionEtag(operation));
    },
  }),
];

const summaryOf = ({ createdAt, digest, id, name, version }: OperationSummary): OperationSummary => ({
  id,
  name,
  version,
  digest,
  createdAt,
});
