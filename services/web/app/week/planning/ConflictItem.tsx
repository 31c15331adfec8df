import type { Because, Obstacle } from "../../../../../shared/plan/plan.ts";
import type { ConflictView } from "../../../../../shared/plan/weekOrders.ts";
import { inUnits } from "../../../../../shared/units/inUnits.ts";
import { shortDayWords } from "../../kit/dates.ts";
import { unplannedWords as words } from "../../strings/unplanned.ts";
import { useUnits } from "../../units/units.ts";
import type { MoveAsk } from "../moves/MoveDialog.tsx";
import { PutIn } from "../moves/PutIn.tsx";
import type { OnSelect } from "../selected.ts";
import { evidenceWords, obstacleDetail } from "./evidenceWords.ts";
import { durationWords, momentWords, moneyWords } from "./times.ts";

interface ConflictItemProps {
  readonly conflict: ConflictView;
  readonly isChosen: boolean;
  readonly crewNames: ReadonlyMap<string, string>;
  readonly timeZone: string;
  readonly currency: string;
  readonly onSelect: OnSelect;
  /** Null: who looks may not change the plan. */
  readonly onAsk: ((move: MoveAsk) => void) | null;
  /** Asks what would help this order; null: it is being asked already. */
  readonly onHelp: ((orderId: string) => void) | null;
}

/** One thing that is not planned: what, why, and the evidence of it. */
export function ConflictItem({
  conflict,
  crewNames,
  currency,
  isChosen,
  onAsk,
  onHelp,
  onSelect,
  timeZone,
}: ConflictItemProps) {
  const units = useUnits();
  const { areaHa, because, evidence, fieldName, grower, orderId, priority, sentence } = conflict;
  const names = {
    crewName: (id: string) => crewNames.get(id) ?? id,
    dayWords: shortDayWords,
    momentWords: (iso: string) => momentWords(iso, timeZone),
    durationWords,
    moneyWords: (cents: number) => moneyWords(cents, currency),
  };
  const sentenceOf = (obstacle: Obstacle) => asSentence(inUnits(obstacle.sentence, units));
  const detailOf = (obstacle: Obstacle) => obstacleDetail(obstacle, units, names);
  const told = evidenceWords(evidence, units, names);
  return (
    <li className={isChosen ? "conflict chosen" : "conflict"}>
      <button
        type="button"
        className="plain conflictTitle"
        aria-pressed={isChosen}
        aria-label={words.showOf(orderId, fieldName)}
        onClick={() => onSelect({ kind: "order", orderId })}
      >
        {orderId}, {fieldName}
      </button>
      <p className="quiet">
        {grower}, {areaHa > 0 ? units.areaHa(areaHa) : words.noGround}
        {priority !== "normal" && `, ${words.priorities[priority]}`}
      </p>
      <p>{asSentence(inUnits(sentence, units))}</p>
      {(because !== null || told.length > 0) && (
        <details>
          <summary>{words.why}</summary>
          {because !== null && <Sets because={because} sentenceOf={sentenceOf} detailOf={detailOf} />}
          {told.length > 0 && (
            <ul>
              {told.map((one) => (
                <li key={one}>{one}</li>
              ))}
            </ul>
          )}
        </details>
      )}
      {onAsk !== null && <PutIn conflict={conflict} onAsk={onAsk} />}
      {onHelp !== null && (
        <button type="button" className="plain" aria-label={words.helpOf(orderId)} onClick={() => onHelp(orderId)}>
          {words.help}
        </button>
      )}
    </li>
  );
}

function Sets({
  because: { hasMore, sets },
  detailOf,
  sentenceOf,
}: {
  readonly because: Because;
  readonly sentenceOf: (obstacle: Obstacle) => string;
  readonly detailOf: (obstacle: Obstacle) => string | null;
}) {
  return (
    <>
      <p>{sets.length === 1 ? words.oneSet : words.eachSet}</p>
      <ol>
        {sets.map((set) => (
          <li key={set.map(({ limit, sentence }) => `${limit} ${sentence}`).join(" ")}>
            {set.map((obstacle, at) => {
              const detail = detailOf(obstacle);
              return (
                <p key={`${obstacle.limit} ${obstacle.sentence}`}>
                  {at > 0 && `${words.together} `}
                  {sentenceOf(obstacle)} {detail !== null && <span className="quiet">{detail}</span>}
                </p>
              );
            })}
          </li>
        ))}
      </ol>
      {hasMore && <p className="quiet">{words.hasMore}</p>}
    </>
  );
}

function asSentence(words0: string): string {
  const begun = `${words0.slice(0, 1).toUpperCase()}${words0.slice(1)}`;
  return /[.!?]$/.test(begun) ? begun : `${begun}.`;
}
