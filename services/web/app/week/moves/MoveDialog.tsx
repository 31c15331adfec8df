import { useEffect, useMemo, useState } from "react";
import type { MoveAnswer } from "../../../../../shared/contracts/moves.ts";
import type { ListedPlan } from "../../../../../shared/contracts/plans.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { ask, pathOf } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { dayWords, shortDayWords } from "../../kit/dates.ts";
import { say } from "../../kit/Say.tsx";
import { Failure } from "../../kit/states.tsx";
import { moveWords as words } from "../../strings/moves.ts";
import { laneAtFirst, moveLanes, takeUp } from "../board/moving.ts";
import { patiently } from "../planning/patiently.ts";
import { blockNamesOf } from "./fieldNames.ts";
import { Verdict } from "./Verdict.tsx";

export interface MoveTo {
  readonly crewId: string;
  readonly date: string;
  /** Undefined: where it costs least. */
  readonly after?: string | null | undefined;
}

/** A move that is thought of. `to` null: out of the plan; undefined: still to be chosen. */
export interface MoveAsk {
  readonly blockId: string;
  readonly to?: MoveTo | null;
}

/** Whether a move goes, why not, and what it costs; it is kept as a draft of its own or not at all. */
export function MoveDialog({
  move,
  onClose,
  onKept,
  plan,
  week,
}: {
  readonly move: MoveAsk;
  readonly plan: ListedPlan;
  readonly week: WeekView;
  readonly onClose: () => void;
  readonly onKept: (planId: string) => void;
}) {
  const [to, setTo] = useState<MoveTo | null | undefined>(move.to);
  const [answer, setAnswer] = useState<MoveAnswer | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const [isKeeping, setIsKeeping] = useState(false);
  const { blockId } = move;
  const lanes = useMemo(() => moveLanes(week), [week]);
  const field = useMemo(() => blockNamesOf(week).get(blockId) ?? blockId, [week, blockId]);
  const isPlanned = takeUp(lanes, blockId) !== null;
  const title = move.to === null ? words.titleOut : isPlanned ? words.title : words.titleIn;
  const path = pathOf`/api/plans/${plan.id}/moves`;

  useEffect(() => {
    if (to === undefined) return;
    let isLeft = false;
    setAnswer(null);
    setError(null);
    askMove(path, { moves: [{ blockId, to }] }).then(
      (told) => {
        if (!isLeft) setAnswer(told);
      },
      (failed: Error) => {
        if (!isLeft) setError(failed);
      },
    );
    return () => {
      isLeft = true;
    };
  }, [to, blockId, path]);

  const keep = (asked: MoveTo | null) => {
    setIsKeeping(true);
    setError(null);
    askMove(path, { moves: [{ blockId, to: asked }], keep: true })
      .then(({ plan: kept }) => {
        if (kept === null) return;
        say(words.kept);
        onKept(kept.id);
      }, setError)
      .finally(() => setIsKeeping(false));
  };
  return (
    <Dialog title={title(field)} onClose={onClose}>
      {to === undefined ? (
        <ChoosePlace week={week} blockId={blockId} onChosen={setTo} />
      ) : (
        <>
          {to !== null && <p>{words.to(placeWords(to))}</p>}
          {answer === null && error === null && <p role="status">{words.asking}</p>}
          {error !== null && <Failure error={error} onAgain={() => setTo(to === null ? null : { ...to })} />}
          {answer !== null && <Verdict answer={answer} week={week} />}
          <p className="buttons">
            {answer?.allowed && (
              <button type="button" className="main" disabled={isKeeping} onClick={() => keep(to)}>
                {isKeeping ? words.keeping : words.keep}
              </button>
            )}
            <button type="button" onClick={onClose}>
              {words.leave}
            </button>
          </p>
        </>
      )}
    </Dialog>
  );

  function placeWords({ after, crewId, date }: MoveTo): string {
    const lane = lanes.find((one) => one.crewId === crewId && one.date === date);
    const crew = lane?.crewName ?? crewId;
    if (after === undefined) return `${words.lane(crew, dayWords(date))}, ${words.cheapest}`;
    return words.place(crew, dayWords(date), lane?.stops.find((stop) => stop.blockId === after)?.fieldName ?? null);
  }
}

/** A week of many orders is compiled at the first question about it. */
const patienceMs = 90_000;

interface MoveBody {
  readonly moves: readonly MoveAsk[];
  readonly keep?: true;
}

function askMove(path: string, body: MoveBody): Promise<MoveAnswer> {
  // Asked again it is the same question: a draft is kept once.
  const idempotencyKey = crypto.randomUUID();
  return patiently(async () => {
    const answered = await ask<MoveAnswer>(path, { method: "POST", body, idempotencyKey, patienceMs });
    return answered.body;
  });
}

const whereItCostsLeast = "";
const asTheFirst = "first";

/** The same choice without a pointer and without the board. */
function ChoosePlace({
  blockId,
  onChosen,
  week,
}: {
  readonly week: WeekView;
  readonly blockId: string;
  readonly onChosen: (to: MoveTo) => void;
}) {
  const lanes = useMemo(() => moveLanes(week), [week]);
  const [laneAt, setLaneAt] = useState(() => laneAtFirst(week, lanes, blockId));
  const [after, setAfter] = useState(whereItCostsLeast);
  const lane = lanes[laneAt];
  if (lane === undefined) return null;
  return (
    <form
      className="choosePlace"
      onSubmit={(event) => {
        event.preventDefault();
        const place = after === whereItCostsLeast ? {} : { after: after === asTheFirst ? null : after };
        onChosen({ crewId: lane.crewId, date: lane.date, ...place });
      }}
    >
      <label>
        {words.where}
        <select
          value={laneAt}
          onChange={({ target }) => {
            setLaneAt(Number(target.value));
            setAfter(whereItCostsLeast);
          }}
        >
          {lanes.map(({ crewId, crewName, date }, at) => (
            <option key={`${crewId} ${date}`} value={at}>
              {words.lane(crewName, shortDayWords(date))}
            </option>
          ))}
        </select>
      </label>
      <label>
        {words.after}
        <select value={after} onChange={({ target }) => setAfter(target.value)}>
          <option value={whereItCostsLeast}>{words.cheapest}</option>
          <option value={asTheFirst}>{words.first}</option>
          {lane.stops
            .filter((stop) => stop.blockId !== blockId)
            .map((stop) => (
              <option key={stop.blockId} value={stop.blockId}>
                {words.afterStop(stop.fieldName, stop.clock)}
              </option>
            ))}
        </select>
      </label>
      <button type="submit" className="main">
        {words.ask}
      </button>
    </form>
  );
}
