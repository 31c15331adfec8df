import { hasEnded, type PlanStatus } from "../../shared/contracts/planRequests.ts";
import type { Store } from "../store/store.ts";
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
    let looking = false;
    let lookAgain = false;
    let over = false;
    const stopWatching = store.watch(id, () => void look());

    async function look(): Promise<void> {
      if (over) return;
      lookAgain = looking;
      if (looking) return;
      looking = true;
      try {
        const followed = await read();
        if (followed && !over) {
          const progress = JSON.stringify(followed.progress);
          if (followed.progress && progress !== lastProgress) send("progress", followed.progress);
          lastProgress = progress;
          if (hasEnded(followed.status)) {
            send("done", followed);
            close();
            end();
          }
        }
      } catch (error) {
        onError(error);
      }
      looking = false;
      if (lookAgain) void look();
    }
    function close(): void {
      over = true;
      stopWatching();
    }
    void look();
    return close;
  };
}
