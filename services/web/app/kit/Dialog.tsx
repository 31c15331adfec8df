import { type ReactNode, useEffect, useId, useRef } from "react";
import { common } from "../strings/common.ts";

/** A window over the screen that has to be seen to first; Escape closes it, and the focus goes back to where it came from. */
export function Dialog({
  children,
  onClose,
  title,
}: {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  useEffect(() => {
    const shown = dialog.current!;
    shown.showModal();
    return () => shown.close();
  }, []);
  return (
    <dialog
      ref={dialog}
      aria-labelledby={titleId}
      className="dialog"
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <div className="dialogHead">
        <h2 id={titleId}>{title}</h2>
        <button type="button" className="plain" onClick={onClose}>
          {common.close}
        </button>
      </div>
      {children}
    </dialog>
  );
}
