import { useOutbox } from "../offline/sender.ts";
import { crewWords as words } from "../strings/crew.ts";
import { dateWords } from "./clockWords.ts";

/** A phone may be so far off before anybody is told; the server calls it wrong at five minutes. Our choice. */
const clockToleranceMs = 2 * 60_000;

/** Whether everything has been sent, what keeps it, and what is wrong with this device. */
export function SendingLine({
  aheadMs,
  staleSinceMs,
}: {
  readonly aheadMs: number | null;
  /** What is shown is from then; null: it is what the server says. */
  readonly staleSinceMs: number | null;
}) {
  const { entries, hindrance } = useOutbox();
  const waiting = entries.filter(({ state }) => state === "waiting").length;
  const refused = entries.filter(({ state }) => state === "refused").length;
  const isClockWrong = aheadMs !== null && Math.abs(aheadMs) > clockToleranceMs;
  const isTrouble = hindrance !== null && (waiting > 0 || hindrance === "noStore" || hindrance === "noNetwork");
  const sentences = [
    waiting > 0 ? words.waiting(waiting) : "",
    isTrouble ? words.hindrance[hindrance] : waiting > 0 ? words.sending : "",
    refused > 0 ? words.refusedCount(refused) : "",
    staleSinceMs === null ? "" : words.oldSheet(whenWords(staleSinceMs)),
    isClockWrong ? words.clockWrong(Math.round(aheadMs / 60_000)) : "",
  ].filter(Boolean);
  const isFine = sentences.length === 0;
  if (isFine && entries.length === 0) return null;
  return (
    <p className={isFine ? "sendingLine" : "sendingLine notice"} role="status" data-waiting={waiting}>
      {isFine ? words.allSent : sentences.join(" ")}
    </p>
  );
}

function whenWords(instantMs: number): string {
  const when = new Date(instantMs);
  const clock = when.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  const isToday = when.toDateString() === new Date().toDateString();
  return isToday ? clock : `${dateWords(when.toISOString().slice(0, 10))} ${clock}`;
}
