import { createServer, connect as dial, type Server, type Socket } from "node:net";
import { freePort } from "./servers.ts";

/** A line to a server on this machine that can be cut, or made to carry nothing while it stands. */
export async function troubledLine(toPort: number) {
  const port = await freePort();
  const sockets = new Set<Socket>();
  let mute = false;
  let server: Server | null = null;

  const open = () =>
    new Promise<void>((resolve) => {
      mute = false;
      server = createServer((from) => {
        const to = dial({ host: "127.0.0.1", port: toPort });
        for (const [one, other] of [
          [from, to],
          [to, from],
        ] as const) {
          sockets.add(one);
          one.on("data", (bytes) => {
            if (!mute) other.write(bytes);
          });
          one.on("error", () => undefined);
          one.on("close", () => {
            sockets.delete(one);
            other.destroy();
          });
        }
      });
      server.listen(port, "127.0.0.1", () => resolve());
    });
  const cut = () => {
    for (const socket of sockets) socket.destroy();
  };
  const close = async () => {
    const closing = server;
    server = null;
    cut();
    if (closing) await new Promise<void>((resolve) => closing.close(() => resolve()));
  };
  await open();
  return {
    port,
    open,
    /** Nobody answers there any more. */
    close,
    /** Every connection is lost, and new ones are to be had at once. */
    cut,
    /** Connections stand, also new ones, and nothing comes through. What was on its way is lost for good. */
    silence: () => {
      mute = true;
    },
  };
}
