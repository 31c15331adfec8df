import { Dialog } from "../kit/Dialog.tsx";
import { common } from "../strings/common.ts";
import { crewWords as words } from "../strings/crew.ts";

/** Asks before a report is taken back: it cannot be brought back, only made anew. */
export function TakeBack({
  onNo,
  onYes,
  what,
}: {
  readonly what: string;
  readonly onYes: () => void;
  readonly onNo: () => void;
}) {
  return (
    <Dialog title={words.takeBackTitle} onClose={onNo}>
      <p>{words.takeBackText(what)}</p>
      <div className="actions">
        <button type="button" className="main" onClick={onYes}>
          {words.takeBack}
        </button>
        <button type="button" onClick={onNo}>
          {common.cancel}
        </button>
      </div>
    </Dialog>
  );
}
