import { randomUUID } from "node:crypto";
import type { ApplicationRecord } from "../../../shared/contracts/applicationRecords.ts";
import type { ReportOutcome } from "../../../shared/contracts/fieldwork.ts";
import type { serveApi } from "./serveApi.ts";

export const blockId = "O-1#1";
/** Minutes after 07:22 in Berlin, when the first work of the week as people read it begins. */
export const at = (min: number) => new Date(Date.UTC(2027, 2, 26, 6, 22 + min)).toISOString();
export const report = (min: number, more: object) => ({
  id: randomUUID(),
  publication: 1,
  at: at(min),
  blockId,
  ...more,
});
export const started = () => report(0, { kind: "started" });
export const measured = (windKph: number) =>
  report(5, { kind: "conditions", air: { windKph, temperatureC: 18, humidityPct: 60 } });
export const dayOf = (operationId: string, crewId = "K1") =>
  `/api/operations/${operationId}/crews/${crewId}/days/2027-03-26`;
export const addressOf = ({ operationId, id }: ApplicationRecord) =>
  `/api/operations/${operationId}/crews/K1/application-records/${id}`;

/** Calls of a crew's phone and of whoever keeps the records. */
export function fieldCalls({ call, get, post }: Pick<ReturnType<typeof serveApi>, "call" | "get" | "post">) {
  return {
    send: (operationId: string, reports: readonly unknown[], crewId?: string) =>
      post<{ reports: ReportOutcome[] }>(`${dayOf(operationId, crewId)}/reports`, { reports }),
    list: async (operationId: string, query = "") => {
      const address = `/api/operations/${operationId}/application-records${query}`;
      return (await get<{ applicationRecords: ApplicationRecord[] }>(address)).body.applicationRecords;
    },
    put: (record: ApplicationRecord, etag: string | null, body: unknown) =>
      call<ApplicationRecord>("PUT", addressOf(record), {
        body: JSON.stringify(body),
        headers: { "content-type": "application/json", ...(etag === null ? {} : { "if-match": etag }) },
      }),
  };
}
