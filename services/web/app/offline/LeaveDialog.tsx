import { Dialog } from "../kit/Dialog.tsx";
import { offlineWords as words } from "../strings/offline.ts";

/** Before somebody signs out whose reports have not been sent. */
export function LeaveDialog({
  onLeave,
  onStay,
  unsent,
}: {
  readonly unsent: number;
  readonly onLeave: () => void;
  readonly onStay: () => void;
}) {
  return (
    <Dialog title={words.leaveTitle} onClose={onStay}>
      <p>{words.leaveText(unsent)}</p>
      <p>
        <button type="button" className="main" onClick={onStay}>
          {words.stay}
        </button>{" "}
        <button type="button" onClick={onLeave}>
          {words.leave}
        </button>
      </p>
    </Dialog>
  );
}
