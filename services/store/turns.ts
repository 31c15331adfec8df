/** What is known of a batch's parts when another batch comes. */
export interface Turns {
  /** The least turn of parts that wait; null: none waits. */
  readonly leastWaiting: number | null;
  /** The greatest turn of parts that are worked; null: none is. */
  readonly mostRunning: number | null;
}

/**
 * The turn of a new batch's first part; each further part comes one turn later. The least turn is worked first, so that a batch that comes later begins at once and from then on shares with those that are
 * there, however many parts they have. Start-time fair queueing (Goyal, Vin, Cheng: SIGCOMM 1996, section 2) with all weights and lengths 1: the turn is the start tag, the least one that waits the virtual time.
 * When nothing waits any more, time goes on from what is worked, and begins anew when nothing is: so turns stay small.
 */
export function firstTurn({ leastWaiting, mostRunning }: Turns): number {
  return leastWaiting ?? mostRunning ?? 1;
}
