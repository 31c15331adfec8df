import pg from "pg";

/**
 * A connection whose errors always have a listener. A server that is killed may send its last word together with the one that a connection is ready: that is before whoever has
 * asked for the connection can listen, and without a listener it would end the process. Whoever waits for an answer is told of the error beside.
 */
export class HeardClient extends pg.Client {
  constructor(settings?: pg.ClientConfig) {
    super(settings);
    this.on("error", () => undefined);
  }
}
