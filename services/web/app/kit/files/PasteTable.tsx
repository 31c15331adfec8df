import { useState } from "react";
import { fileWords as words } from "../../strings/files.ts";

/** Lines of a table that were copied from elsewhere, as from a mail. */
export function PasteTable({ onPasted }: { readonly onPasted: (text: string) => void }) {
  const [text, setText] = useState("");
  return (
    <details>
      <summary>{words.paste}</summary>
      <label>
        {words.pasteLabel}
        <textarea rows={4} value={text} spellCheck={false} onChange={({ target }) => setText(target.value)} />
      </label>
      <button type="button" disabled={text.trim() === ""} onClick={() => onPasted(text)}>
        {words.pasteLook}
      </button>
    </details>
  );
}
