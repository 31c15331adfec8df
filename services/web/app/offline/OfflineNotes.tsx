import { useEffect } from "react";
import type { SessionFacts } from "../../../../shared/contracts/session.ts";
import { offlineWords as words } from "../strings/offline.ts";
import { isUnsent } from "./outbox.ts";
import { keepSending, sendAs, useOutbox } from "./sender.ts";
import { keepScreens, takeNewBuild, useNewBuild } from "./serviceWorker.ts";
import "./offline.css";

/** Where a crew works, or has worked: keeps the screens, sends what waits, and says what somebody has to know of either. */
export default function OfflineNotes({ session }: { readonly session: SessionFacts | null }) {
  useEffect(() => {
    // Without it everything works but for opening the page without a network.
    keepScreens().catch(() => undefined);
    return keepSending();
  }, []);
  useEffect(() => sendAs(session), [session]);
  const isNewReady = useNewBuild();
  const { entries } = useOutbox();
  const unsent = session === null ? entries.filter(isUnsent).length : 0;
  return (
    <>
      {isNewReady && (
        <p className="offlineNote" role="status">
          {words.newBuild}{" "}
          <button type="button" onClick={takeNewBuild}>
            {words.takeNewBuild}
          </button>
        </p>
      )}
      {unsent > 0 && (
        <p className="offlineNote" role="status">
          {words.waitSignedOut(unsent)}
        </p>
      )}
    </>
  );
}
