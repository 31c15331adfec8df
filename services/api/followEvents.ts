import { hasEnded, type PlanStatus } from "../../shared/contracts/planRequests.ts";
import type { Store } from "../store/store.ts";
import { onChange } from "./onChange.ts";
import type { EventSource } from "./route.ts";

interface Followed {
  readonly status: PlanStatus;
  readonly progress: unknown;
}

/** Follows a plan request or a study to its end. The stream begins with how things stand, so nothing is missed by coming late or back. */
export function followEvents(
  store: Store,
  id: string,
  read: () => Promise<Followed | null>,
  onError: (error: unknown) => void,
): EventSource {
  return (send, end) => {
    let lastProgress = "";
    let over = false;
    const stop = onChange(
      store,
      id,
      async () => {
        const followed = await read();
        if (!followed || over) return;
        const progress = JSON.stringify(followed.progress);
        if (followed.progress && progress !== lastProgress) send("progress", followed.progress);
        lastProgress = progress;
        if (!hasEnded(followed.status)) return;
        send("done", followed);
        close();
        end();
      },
      onError,
    );
    function close(): void {
      over = true;
      stop();
    }
    return close;
  };
}
