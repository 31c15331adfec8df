/** A start of a plan request, or of a part of a study, that has ended in a worker. */
export interface EndedJob {
  readonly queue: "plans" | "parts";
  /** How it has ended (services/worker/endings.ts). */
  readonly ending: string;
  readonly seconds: number;
  /** How often it was begun, this time included. */
  readonly starts: number;
  /** Null: nothing was proven, or there is no plan. */
  readonly gapFrac: number | null;
  /** Until the first plan was there; null: there was none. */
  readonly firstPlanSeconds: number | null;
  /** So many windows were worked out for it; 0 where that is not counted, as in parts of studies. */
  readonly windows: number;
}
