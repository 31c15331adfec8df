import type { ReactNode } from "react";
import { weekWords as words } from "../../strings/week.ts";
import { LockSign } from "./LockSign.tsx";
import { barsPath, spanKinds } from "./paths.ts";

const one = [{ leftPx: 2, widthPx: 24 }];

/** How to read the board and go about on it, opened on demand. */
export function Legend({ mayMove }: { readonly mayMove: boolean }) {
  return (
    <details className="legend">
      <summary>{words.legend}</summary>
      <p className="boardKeys">{mayMove ? words.boardKeys : words.boardKeysReading}</p>
      <ul>
        <Entry words={words.legendTide}>
          <path className="tide" d="M0 40V30H10V14H20V24H28V40Z" />
        </Entry>
        <Entry words={words.legendNight}>
          <rect className="night" width="28" height="40" />
        </Entry>
        <Entry words={words.legendOrder}>
          <path className="chosenOpen" d="M0 0H28V4H0Z" />
        </Entry>
        {(["liquid", "granular"] as const).map((method) => (
          <li key={method}>
            <span className={`stop sample ${method}`} /> {words.methods[method]}
          </li>
        ))}
        <li>
          <span className="stop sample liquid">
            <span className="pause all" />
          </span>{" "}
          {words.pause}
        </li>
        {spanKinds
          .filter((kind) => kind !== "packup" && kind !== "methodChange")
          .map((kind) => (
            <Entry
              key={kind}
              words={
                kind === "setup"
                  ? `${words.spans.setup}, ${words.spans.packup}`
                  : kind === "cleanOut"
                    ? `${words.spans.cleanOut}, ${words.spans.methodChange}`
                    : words.spans[kind]
              }
            >
              <path className={`span ${kind}`} d={barsPath(kind, one)} />
            </Entry>
          ))}
        <li>
          <LockSign /> {words.legendLock}
        </li>
        <li>{words.legendPriority}</li>
      </ul>
    </details>
  );
}

function Entry({ children, words: told }: { readonly words: string; readonly children: ReactNode }) {
  return (
    <li>
      <svg width="28" height="40" aria-hidden="true">
        {children}
      </svg>{" "}
      {told}
    </li>
  );
}
