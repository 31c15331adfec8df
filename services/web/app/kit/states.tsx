import type { ReactNode } from "react";
import { NoAnswer, Refusal } from "../api/call.ts";
import { common } from "../strings/common.ts";
import type { Asked } from "./useAsked.ts";

export function errorWords(error: Error): string {
  if (error instanceof NoAnswer) return common.failed.noAnswer;
  return error instanceof Refusal ? error.message : common.failed.page;
}

const faultsShown = 8;

/** What was refused, with every fault by its place. `words`: where others than the error's own tell it better. */
export function Failure({
  error,
  onAgain,
  words = errorWords(error),
}: {
  readonly error: Error;
  readonly onAgain?: () => void;
  readonly words?: string | undefined;
}) {
  const faults = error instanceof Refusal ? error.faults : [];
  const breaches = error instanceof Refusal ? error.breaches : [];
  return (
    <div className="failure" role="alert">
      <p>{words}</p>
      {faults.length > 0 && (
        <ul>
          {faults.slice(0, faultsShown).map((fault) => (
            <li key={fault.path.join(".")}>
              <b>{fault.path.join(" › ")}</b>: {valueWords(fault.value)}expected {fault.expected}
            </li>
          ))}
          {faults.length > faultsShown && <li>{common.failed.more(faults.length - faultsShown)}</li>}
        </ul>
      )}
      {breaches.length > 0 && (
        <ul>
          {breaches.map(({ rule, sentence }) => (
            <li key={`${rule} ${sentence}`}>{sentence}</li>
          ))}
        </ul>
      )}
      {onAgain && (
        <button type="button" onClick={onAgain}>
          {common.failed.again}
        </button>
      )}
    </div>
  );
}

function valueWords(value: unknown): string {
  if (value === undefined || value === null) return "";
  const text = typeof value === "string" ? value : JSON.stringify(value);
  return `${text.length > 60 ? `${text.slice(0, 60)}…` : text}, `;
}

export const Empty = ({ children }: { readonly children: ReactNode }) => <div className="empty">{children}</div>;

/** Nothing that is shown can be old where nothing has come yet. */
const wordsWithout = (error: Error, value: unknown): string =>
  error instanceof NoAnswer && value === null ? common.failed.noAnswerEmpty : errorWords(error);

/** Waits for what was asked and shows why it does not come; what came before stays with a notice above it. */
export function Shown<Value>({
  asked: { again, error, value },
  children,
}: {
  readonly asked: Asked<Value>;
  readonly children: (value: Value) => ReactNode;
}) {
  if (value === null && error === null) return <p className="empty">{common.loading}</p>;
  return (
    <>
      {error !== null && <Failure error={error} onAgain={again} words={wordsWithout(error, value)} />}
      {value !== null && children(value)}
    </>
  );
}
