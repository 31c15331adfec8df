import { useMemo } from "react";
import type { MoveAnswer } from "../../../../../shared/contracts/moves.ts";
import type { CrewDayView, WeekView } from "../../../../../shared/plan/weekView.ts";
import { inUnits } from "../../../../../shared/units/inUnits.ts";
import { dayWords } from "../../kit/dates.ts";
import { moveWords as words } from "../../strings/moves.ts";
import { useUnits } from "../../units/units.ts";
import { moneyWords } from "../planning/times.ts";
import { blockNamesOf, withFieldNames } from "./fieldNames.ts";

/** What the planner and the checker say of a move. */
export function Verdict({ answer, week }: { readonly answer: MoveAnswer; readonly week: WeekView }) {
  const units = useUnits();
  const blockNames = useMemo(() => blockNamesOf(week), [week]);
  const { allowed, breaches, costCents, crewDays, leftOut, parts, why } = answer;
  const money = (cents: number) => moneyWords(Math.abs(cents), week.currency);
  const nameOf = (crewId: string) => week.crews.find(({ id }) => id === crewId)?.name ?? crewId;
  const told = (sentence: string) => inUnits(withFieldNames(sentence, blockNames), units);
  const sentences = [...new Set([...why, ...breaches.map(({ sentence }) => sentence)])];
  return (
    <div role="status">
      <p className={allowed ? "verdict good" : "verdict bad"}>{allowed ? words.allowed : words.notAllowed}</p>
      {sentences.length > 0 && (
        <ul>
          {sentences.map((sentence) => (
            <li key={sentence}>{told(sentence)}</li>
          ))}
        </ul>
      )}
      {leftOut.length > 0 && (
        <>
          <p>{words.leftOut}</p>
          <ul>
            {leftOut.map(({ blockId, sentence }) => (
              <li key={blockId}>{words.fallsOut(blockNames.get(blockId) ?? blockId, told(sentence))}</li>
            ))}
          </ul>
        </>
      )}
      {costCents !== null && (
        <p>
          {Math.abs(costCents) < 50
            ? words.same
            : costCents > 0
              ? words.costs(money(costCents))
              : words.saves(money(costCents))}
        </p>
      )}
      {parts.length > 0 && (
        <details>
          <summary>{words.parts}</summary>
          <ul>
            {parts.map(({ cents, part, words: partWords }) => (
              <li key={part}>{(cents > 0 ? words.more : words.less)(money(cents), partWords)}</li>
            ))}
          </ul>
        </details>
      )}
      {allowed && crewDays.length > 0 && (
        <>
          <p>{words.becomes}</p>
          <ul>
            {crewDays.map(({ crewDay, crewId, date }) => {
              const view = crewDay as CrewDayView | null;
              return (
                <li key={`${crewId} ${date}`}>
                  {view === null
                    ? words.becomesNothing(nameOf(crewId), dayWords(date))
                    : words.becomesDay(
                        nameOf(crewId),
                        dayWords(date),
                        view.leave.clock,
                        view.back.clock,
                        words.stops(view.stops.length),
                      )}
                </li>
              );
            })}
          </ul>
        </>
      )}
    </div>
  );
}
