import { useId, useState } from "react";
import { common } from "../strings/common.ts";

/** Something that is told only now: a link to hand over, the secret of a token. */
export function ToldOnce({
  label,
  text,
  value,
}: {
  readonly label: string;
  readonly text: string;
  readonly value: string;
}) {
  const [isCopied, setIsCopied] = useState(false);
  const textId = useId();
  return (
    <div className="toldOnce">
      <p id={textId}>{text}</p>
      <label>
        {label}
        <input
          readOnly
          value={value}
          aria-describedby={textId}
          onFocus={({ target }) => target.select()}
          spellCheck={false}
        />
      </label>
      <p>
        <button
          type="button"
          className="main"
          onClick={() => {
            // Where the browser lets nothing be copied the field can still be selected.
            navigator.clipboard?.writeText(value).then(
              () => setIsCopied(true),
              () => setIsCopied(false),
            );
          }}
        >
          {common.copy}
        </button>{" "}
        <span role="status">{isCopied ? common.copied : ""}</span>
      </p>
    </div>
  );
}
