import { memo, useState } from "react";
import type { CalmHours } from "../../../../../shared/plan/calmHours.ts";
import { inUnits } from "../../../../../shared/units/inUnits.ts";
import { dayWords, shortDayWords } from "../../kit/dates.ts";
import { weekWords as words } from "../../strings/week.ts";
import type { UnitWords } from "../../units/units.ts";
import { type LocksOfWeek, lockKey } from "../locks.ts";
import type { Selected } from "../selected.ts";
import { Ground } from "./Ground.tsx";
import { Lane, type LaneShown } from "./Lane.tsx";
import { type BoardScale, type LaidDay, type LaidHour, skyHeightPx } from "./layout.ts";
import type { Moving } from "./moving.ts";

interface DayRowsProps extends LaneShown {
  readonly day: LaidDay;
  readonly scale: BoardScale;
  /** Of the day's first row among all of the board. */
  readonly firstRow: number;
  readonly ableHa: number | null;
  readonly selected: Selected;
  readonly chosenOpen: string;
  readonly locks: LocksOfWeek;
  readonly tabStop: string | null;
  readonly moving: Moving | null;
}

/** A day: its hours above, under them what each crew does with them. */
export const DayRows = memo(function DayRows(props: DayRowsProps) {
  const { ableHa, chosenOpen, day, firstRow, moving, scale, selected, tabStop, units } = props;
  const [hourAt, setHourAt] = useState<number | null>(null);
  const headId = `board-${day.date}`;
  const out = day.lanes.filter(({ crewDay }) => crewDay !== null);
  const areaHa = out.reduce((sum, { crewDay }) => sum + crewDay!.areaHa, 0);
  const shown = day.hours.find(({ at }) => at === hourAt);
  return (
    <section className="boardDay" aria-labelledby={headId}>
      <div className="lane sky">
        <div className="laneHead">
          <h2 id={headId}>
            <span aria-hidden="true">{shortDayWords(day.date)}</span>
            <span className="visuallyHidden">{dayWords(day.date)}</span>
          </h2>
          <small>{words.daySummary(out.length, units.areaHa(areaHa))}</small>
          {day.hours.length > 0 && (
            <small>{words.calmPeak(units.areaHa(Math.max(...day.hours.map(({ hour }) => hour.openHa))))}</small>
          )}
        </div>
        <div className="laneGround" style={{ width: scale.widthPx, height: skyHeightPx }}>
          <Ground day={day} tide={day.tide} widthPx={scale.widthPx} heightPx={skyHeightPx} open={chosenOpen}>
            {day.ticks.map(({ clock, leftPx }) => (
              <text key={leftPx} className="clock" x={leftPx + 3} y="13">
                {clock}
              </text>
            ))}
          </Ground>
          {ableHa !== null && (
            <ul aria-label={words.calmOf(dayWords(day.date))}>
              {day.hours.map(({ at, hour, leftPx, widthPx }) => {
                const key = `hour ${day.date} ${at}`;
                return (
                  <li key={at} className="hourPlace" style={{ left: leftPx, width: widthPx }}>
                    <button
                      type="button"
                      className="hour"
                      aria-expanded={hourAt === at}
                      aria-label={words.hourName(hour.start.clock, units.areaHa(hour.openHa), units.areaHa(ableHa))}
                      tabIndex={tabStop === key ? 0 : -1}
                      data-key={key}
                      data-row={firstRow}
                      data-px={leftPx}
                      onClick={() => setHourAt(hourAt === at ? null : at)}
                    />
                  </li>
                );
              })}
            </ul>
          )}
        </div>
      </div>
      <div className="hourWhy" role="status">
        {shown && ableHa !== null && <HourWhy {...shown} ableHa={ableHa} units={units} />}
      </div>
      <ul className="lanes">
        {day.lanes.map((lane, at) => {
          const isOfOrder =
            selected?.kind === "order" && lane.stops.some(({ stop }) => stop.orderId === selected.orderId);
          const isTarget = moving?.to.crewId === lane.crewId && moving.to.date === lane.date;
          const isMovingHere = moving !== null && lane.stops.some(({ stop }) => stop.blockId === moving.blockId);
          const isTabHere =
            tabStop === `day ${lane.crewId} ${lane.date}` || lane.stops.some(({ stop }) => stop.blockId === tabStop);
          return (
            <Lane
              key={lane.crewId}
              lane={lane}
              day={day}
              widthPx={scale.widthPx}
              row={firstRow + 1 + at}
              units={units}
              priorityOf={props.priorityOf}
              onSelect={props.onSelect}
              chosenOrderId={isOfOrder ? selected.orderId : null}
              chosenBlockId={isOfOrder ? (selected.blockId ?? null) : null}
              isChosenDay={
                selected?.kind === "crewDay" && selected.crewId === lane.crewId && selected.date === lane.date
              }
              lock={props.locks.get(lockKey(lane.crewId, lane.date)) ?? null}
              chosenOpen={chosenOpen}
              tabStop={isTabHere ? tabStop : null}
              target={isTarget ? moving.to : null}
              movingBlockId={isMovingHere ? moving.blockId : null}
            />
          );
        })}
      </ul>
      {day.off.length > 0 && <p className="off">{words.off(day.off.join(", "))}</p>}
    </section>
  );
});

function HourWhy({
  ableHa,
  hour: { closedBy, end, openHa, start },
  units,
}: LaidHour & { readonly ableHa: CalmHours["ableHa"]; readonly units: UnitWords }) {
  return (
    <>
      <p>
        <b>{words.hourTitle(start.clock, end.clock)}</b> {words.hourOpen(units.areaHa(openHa), units.areaHa(ableHa))}{" "}
        {closedBy.length === 0 ? words.hourAll : words.hourCloses}
      </p>
      <ul>
        {closedBy.map(({ areaHa, limit, sentence }) => (
          <li key={limit}>{words.hourClosed(units.areaHa(areaHa), inUnits(sentence, units))}</li>
        ))}
      </ul>
    </>
  );
}
