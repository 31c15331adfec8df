import type { AirMeasured, StopReason, WorkReport } from "../../../../shared/done/workReport.ts";

export interface Used {
  readonly productId: string;
  readonly amount: number;
}

/** What a tap says, before it has an id and a time. */
export type Told =
  | { readonly kind: "arrived" | "started" | "loadDone" | "goesOn" }
  | {
      readonly kind: "stopped";
      readonly reason: StopReason;
      readonly words: string;
      readonly doneHa: number;
      readonly used?: readonly Used[];
    }
  | { readonly kind: "finished"; readonly doneHa: number; readonly used?: readonly Used[] }
  | { readonly kind: "conditions"; readonly air: AirMeasured };

export interface Heading {
  readonly id: string;
  readonly publication: number;
  /** By this phone's clock. */
  readonly at: string;
}

export const reportOf = (told: Told, blockId: string, heading: Heading): WorkReport =>
  ({ ...told, ...heading, blockId }) as WorkReport;

export const correctionOf = (withdraws: string, words: string, heading: Heading): WorkReport => ({
  kind: "correction",
  ...heading,
  withdraws,
  words,
});

/** The same with another time, in place of the one that is taken back. */
export const reportAt = (report: WorkReport, heading: Pick<Heading, "id" | "at">): WorkReport =>
  ({ ...report, ...heading }) as WorkReport;

/** The instant of a clock reading nearest to another instant, by the phone's own time. */
export function nearestAt(clock: string, nearMs: number): string | null {
  const [, hours, minutes] = /^(\d{1,2}):(\d{2})/.exec(clock) ?? [];
  if (hours === undefined || Number(hours) > 23 || Number(minutes) > 59) return null;
  const day = new Date(nearMs);
  const candidates = [-1, 0, 1].map((days) =>
    new Date(day.getFullYear(), day.getMonth(), day.getDate() + days, Number(hours), Number(minutes)).getTime(),
  );
  const nearest = candidates.reduce((best, one) => (Math.abs(one - nearMs) < Math.abs(best - nearMs) ? one : best));
  return new Date(nearest).toISOString();
}
