import type { ReactNode } from "react";
import { Dialog } from "../kit/Dialog.tsx";
import { common } from "../strings/common.ts";
import { crewWords as words } from "../strings/crew.ts";

/** A report that needs more than a tap. */
export function ReportForm({
  children,
  fault,
  onClose,
  onSend,
  title,
  verdict,
}: {
  readonly title: string;
  /** What is wrong with what was typed; null: nothing. */
  readonly fault: string | null;
  readonly onSend: () => void;
  readonly onClose: () => void;
  /** Stays in sight above the buttons. */
  readonly verdict?: ReactNode;
  readonly children: ReactNode;
}) {
  return (
    <Dialog title={title} onClose={onClose}>
      <form
        className="reportForm"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          onSend();
        }}
      >
        {children}
        <div className="reportFoot">
          {verdict}
          {fault !== null && (
            <p className="failure" role="alert">
              {fault}
            </p>
          )}
          <div className="actions">
            <button type="submit" className="main">
              {words.send}
            </button>
            <button type="button" onClick={onClose}>
              {common.cancel}
            </button>
          </div>
        </div>
      </form>
    </Dialog>
  );
}
