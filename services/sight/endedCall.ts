/** A call that has ended, for log and figures: without its address, headers and body, in which there may be secrets. */
export interface EndedCall {
  readonly callId: string;
  /** Null: no route of the API, such as a file of the page. */
  readonly routeId: string | null;
  readonly method: string;
  readonly status: number;
  readonly durationMs: number;
  readonly actor: { readonly kind: string; readonly id: string } | null;
  readonly isStream: boolean;
  /** The caller has gone before the answer was complete, as streams always end. */
  readonly brokenOff: boolean;
}
