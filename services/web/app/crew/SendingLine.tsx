import { dayWords } from "../kit/dates.ts";
import { useOutbox } from "../offline/sender.ts";
import { crewWords as words } from "../strings/crew.ts";
import { clockAt, dateAt } from "./clockWords.ts";

/** A phone may be so far off before anybody is told; the server calls it wrong at five minutes. Our choice. */
const clockToleranceMs = 2 * 60_000;
const farOffMin = 90;

/** Whether everything has been sent, what keeps it, and what is wrong with this device. */
export function SendingLine({
  aheadMs,
  staleSinceMs,
  timeZone,
}: {
  readonly aheadMs: number | null;
  /** What is shown is from then; null: it is what the server says. */
  readonly staleSinceMs: number | null;
  /** Of the operation; null: not known yet. */
  readonly timeZone: string | null;
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
    staleSinceMs === null || timeZone === null ? "" : words.oldSheet(whenWords(staleSinceMs, timeZone)),
    isClockWrong ? clockWords(Math.round(aheadMs / 60_000)) : "",
  ].filter(Boolean);
  const isFine = sentences.length === 0;
  if (isFine && entries.length === 0) return null;
  return (
    <p className={isFine ? "sendingLine" : "sendingLine notice"} role="status" data-waiting={waiting}>
      {isFine ? words.allSent : sentences.join(" ")}
    </p>
  );
}

const clockWords = (minutes: number) => (Math.abs(minutes) > farOffMin ? words.clockFarOff : words.clockWrong(minutes));

function whenWords(instantMs: number, timeZone: string): string {
  const clock = clockAt(instantMs, timeZone);
  const date = dateAt(instantMs, timeZone);
  return date === dateAt(Date.now(), timeZone) ? clock : `${dayWords(date)} ${clock}`;
}
