import { crewWords as words } from "../strings/crew.ts";
import { clockOn } from "./clockWords.ts";
import type { DayChange } from "./dayChanges.ts";

/** What is otherwise than the crew was told, until somebody has read it. */
export function ChangedNote({
  changes,
  date,
  onRead,
}: {
  readonly changes: readonly DayChange[];
  readonly date: string;
  readonly onRead: () => void;
}) {
  const sentences = changes.map((change) => sentenceOf(change, date));
  return (
    <section className="changed" role="alert">
      <h2>{words.changed}</h2>
      <ul>
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <button type="button" className="main" onClick={onRead}>
        {words.changesRead}
      </button>
    </section>
  );
}

function sentenceOf(change: DayChange, date: string): string {
  switch (change.kind) {
    case "leave":
      return words.change.leave(clockOn(change.before, date), clockOn(change.now, date));
    case "added":
    case "gone":
      return words.change[change.kind](change.fieldName, clockOn(change.start, date));
    case "start":
      return words.change.start(change.fieldName, clockOn(change.before, date), clockOn(change.now, date));
    case "ground":
    case "mix":
    case "pad":
    case "limits":
      return words.change[change.kind](change.fieldName);
    case "order":
    case "outfit":
    case "people":
      return words.change[change.kind];
  }
}
