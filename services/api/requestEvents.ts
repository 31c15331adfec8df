import { hasEnded } from "../../shared/contracts/planRequests.ts";
import type { Store } from "../store/store.ts";
import type { EventSource } from "./route.ts";

/** The stream begins with how things stand, so nothing is missed by coming late or back. */
export function requestEvents(store: Store, requestId: string, onError: (error: unknown) => void): EventSource {
  return (send, end) => {
    let lastProgress = "";
    let looking = false;
    let lookAgain = false;
    let over = false;
    const stopWatching = store.watch(requestId, () => void look());

    async function look(): Promise<void> {
      if (over) return;
      lookAgain = looking;
      if (looking) return;
      looking = true;
      try {
        const request = await store.planRequest(requestId);
        if (request && !over) {
          const progress = JSON.stringify(request.progress);
          if (request.progress && progress !== lastProgress) send("progress", request.progress);
          lastProgress = progress;
          if (hasEnded(request.status)) {
            send("done", request);
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
