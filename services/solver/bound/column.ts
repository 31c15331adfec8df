/** A route of an outing, with what it costs in the relaxation. */
export interface Column {
  readonly outing: number;
  /** In order. */
  readonly blocks: readonly number[];
  readonly cents: number;
  readonly dutyMin: number;
}
