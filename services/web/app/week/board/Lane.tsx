import { type CSSProperties, memo } from "react";
import type { Lock } from "../../../../../shared/model/locks.ts";
import type { OrderView } from "../../../../../shared/plan/weekOrders.ts";
import { dayWords } from "../../kit/dates.ts";
import { weekWords as words } from "../../strings/week.ts";
import type { UnitWords } from "../../units/units.ts";
import { isHeld, kindsOf } from "../locks.ts";
import type { OnSelect } from "../selected.ts";
import { Ground } from "./Ground.tsx";
import { LockSign } from "./LockSign.tsx";
import { idleHeightPx, type LaidDay, type LaidLane, type LaidStop, laneHeightPx } from "./layout.ts";
import type { Target } from "./moving.ts";

export interface LaneShown {
  readonly units: UnitWords;
  readonly priorityOf: ReadonlyMap<string, OrderView["priority"]>;
  readonly onSelect: OnSelect;
}

interface LaneProps extends LaneShown {
  readonly lane: LaidLane;
  readonly day: LaidDay;
  readonly widthPx: number;
  /** Place among all rows of the board, for the arrow keys. */
  readonly row: number;
  readonly chosenOrderId: string | null;
  readonly chosenBlockId: string | null;
  readonly isChosenDay: boolean;
  /** Null: nothing of the day is locked. */
  readonly lock: Lock | null;
  readonly chosenOpen: string;
  /** Of what Tab comes to; null: nothing in this lane. */
  readonly tabStop: string | null;
  readonly target: Target | null;
  readonly movingBlockId: string | null;
}

/** One crew's day: the hours that it could use, and what it does with them. */
export const Lane = memo(function Lane(props: LaneProps) {
  const { day, isChosenDay, lane, onSelect, row, tabStop, units, widthPx } = props;
  const { crewDay, crewId, crewName, date, stops } = lane;
  const key = `day ${crewId} ${date}`;
  const locked = props.lock === null ? [] : kindsOf(props.lock).map((kind) => words.lockedShort[kind]);
  const heightPx = crewDay === null ? idleHeightPx : laneHeightPx;
  return (
    <li className={crewDay === null ? "lane idle" : "lane"}>
      <div className="laneHead">
        {crewDay === null ? (
          <span className="idleName">
            {crewName} {locked.length > 0 && <LockWords locked={locked} />}
          </span>
        ) : (
          <button
            type="button"
            aria-pressed={isChosenDay}
            aria-label={[
              words.crewDayName(crewName, dayWords(date), stops.length, units.areaHa(crewDay.areaHa)),
              ...locked,
            ].join(", ")}
            tabIndex={tabStop === key ? 0 : -1}
            data-key={key}
            data-row={row}
            data-px={0}
            onClick={() => onSelect({ kind: "crewDay", crewId, date })}
          >
            {crewName} {locked.length > 0 && <LockWords locked={locked} />}
          </button>
        )}
      </div>
      <div className="laneGround" style={{ width: widthPx, height: heightPx }} data-crew={crewId} data-date={date}>
        <Ground day={day} tide={lane.tide} widthPx={widthPx} heightPx={heightPx} open={props.chosenOpen}>
          {lane.spans.map(({ kind, path }) => (
            <path key={kind} d={path} className={`span ${kind}`} />
          ))}
        </Ground>
        {crewDay === null && <span className="idleWords">{words.idle}</span>}
        {stops.length > 0 && (
          <ol aria-label={words.stopsOf(crewName, dayWords(date))}>
            {stops.map((laid) => (
              <Stop key={laid.stop.blockId} laid={laid} {...props} />
            ))}
          </ol>
        )}
        {props.target !== null && <Marker {...props} target={props.target} />}
      </div>
    </li>
  );
});

function LockWords({ locked }: { readonly locked: readonly string[] }) {
  return (
    <small className="lockWords">
      <LockSign /> {locked.join(", ")}
    </small>
  );
}

function Stop({
  chosenBlockId,
  chosenOrderId,
  laid: { leftPx, number, pauses, shows, stop, widthPx },
  lock,
  movingBlockId,
  onSelect,
  priorityOf,
  row,
  tabStop,
  units,
}: LaneProps & { readonly laid: LaidStop }) {
  const priority = priorityOf.get(stop.orderId) ?? "normal";
  const isLocked = isHeld(lock, stop);
  const isOfOrder = chosenOrderId === stop.orderId;
  const isChosen = isOfOrder && (chosenBlockId === null || chosenBlockId === stop.blockId);
  const classes = ["stop", stop.method, isOfOrder ? "ofOrder" : "", movingBlockId === stop.blockId ? "moving" : ""];
  return (
    <li className="stopPlace" style={{ left: leftPx, width: Math.max(2, widthPx - 1) }}>
      {isLocked && <LockSign />}
      <button
        type="button"
        className={classes.filter(Boolean).join(" ")}
        aria-pressed={isChosen}
        aria-label={words.stopName({
          number,
          field: stop.fieldName,
          part: words.part(stop.part, stop.parts),
          from: stop.start.clock,
          to: stop.end.clock,
          area: units.areaHa(stop.areaHa),
          work: words.methods[stop.method],
          priority: words.priorities[priority],
          lock: isLocked ? words.lockedStop : "",
        })}
        tabIndex={tabStop === stop.blockId ? 0 : -1}
        data-key={stop.blockId}
        data-block={stop.blockId}
        data-row={row}
        data-px={leftPx}
        onClick={() => onSelect({ kind: "order", orderId: stop.orderId, blockId: stop.blockId })}
      >
        {pauses.map((pause) => (
          <span key={pause.leftPx} className="pause" style={{ left: pause.leftPx, width: pause.widthPx }} />
        ))}
        {shows !== "nothing" && (
          <span className={shows === "smallNumber" ? "stopWords small" : "stopWords"}>
            {shows === "name" ? `${words.prioritySigns[priority]}${number} ${stop.fieldName}` : number}
          </span>
        )}
      </button>
    </li>
  );
}

/** Where a stop that is being moved would go. */
function Marker({ lane, target }: LaneProps & { readonly target: Target }) {
  const before = lane.stops.find(({ stop }) => stop.blockId === target.after);
  const style: CSSProperties = { left: before === undefined ? lane.leavePx : before.leftPx + before.widthPx };
  return <span className="marker" style={style} />;
}
