import { type ReactNode, useId } from "react";
import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { inUnits } from "../../../../shared/units/inUnits.ts";
import { kphFromMps } from "../../../../shared/units/units.ts";
import { shortDayWords } from "../kit/dates.ts";
import { crewWords as words } from "../strings/crew.ts";
import { useUnits } from "../units/units.ts";
import { clockAt, clockOn } from "./clockWords.ts";
import { Facts } from "./Facts.tsx";
import { GeoLink } from "./GeoLink.tsx";
import { Hazards } from "./Hazards.tsx";
import { intervalsAfter } from "./intervalsAfter.ts";
import { LastMeasured } from "./LastMeasured.tsx";
import { MixList } from "./MixList.tsx";
import { Neighbours } from "./Neighbours.tsx";
import { SiteLimitLines } from "./SiteLimitLines.tsx";
import type { DayReport, StopStand } from "./stands.ts";

interface Shown {
  readonly stop: SheetStop;
  readonly date: string;
  readonly timeZone: string;
  readonly altitudeM: number;
  readonly stand: StopStand;
  readonly reports: readonly DayReport[];
  readonly isPresent: boolean;
  /** Its calm hours. */
  readonly picture: ReactNode;
  /** Makes this the stop that is reported on; null: it is, or nobody reports here. */
  readonly onReport: (() => void) | null;
}

/** One stop with all that has to be known at its pad. */
export function StopCard(shown: Shown) {
  const { altitudeM, date, isPresent, onReport, picture, reports, stand, stop, timeZone } = shown;
  const titleId = useId();
  const { end, fieldName, number, part, parts, side, start } = stop;
  return (
    <details className={isPresent ? "stopCard present" : "stopCard"} open={isPresent}>
      <summary>
        <span className="stopNumber">{number}</span>
        <span className="stopTitle">
          <b id={titleId}>{fieldName}</b>
          {parts > 1 && <> {words.part(part, parts, side)}</>}
          <br />
          {clockOn(start, date)} – {clockOn(end, date)}, <StandWords stand={stand} stop={stop} timeZone={timeZone} />
        </span>
      </summary>
      {picture}
      {onReport && stand.state !== "finished" && (
        <button type="button" onClick={onReport} aria-describedby={titleId}>
          {words.workOn}
        </button>
      )}
      <Hazards stop={stop} date={date} />
      {stop.notes !== "" && (
        <p className="notice">
          <b>{words.notes}:</b> {stop.notes}
        </p>
      )}
      <LastMeasured stop={stop} reports={reports} altitudeM={altitudeM} timeZone={timeZone} />
      <SiteLimitLines stop={stop} />
      <MixList stop={stop} />
      <StopFacts {...shown} />
      <Neighbours stop={stop} />
      <p className="quiet">{words.caution}</p>
    </details>
  );
}

function StandWords({ stand, stop, timeZone }: Pick<Shown, "stand" | "stop" | "timeZone">) {
  const units = useUnits();
  const { arrivedAt, doneHa, endedAt, loads, loadsDone, reason, startedAt, state } = stand;
  const at = endedAt ?? startedAt;
  if (state === "notBegun") {
    return <>{arrivedAt === null ? words.state.notBegun : `${words.arrived} ${clockAt(arrivedAt, timeZone)}`}</>;
  }
  const parts = [
    `${words.state[state]}${at === null ? "" : ` ${clockAt(at, timeZone)}`}`,
    ...(reason === null ? [] : [words.reasons[reason].toLowerCase()]),
    ...(state === "running" ? [words.loadsDone(loadsDone, loads)] : []),
    words.doneOf(units.areaHa(doneHa), units.areaHa(stop.areaHa)),
  ];
  return <>{parts.join(", ")}</>;
}

function StopFacts({ date, stand, stop, timeZone }: Shown) {
  const units = useUnits();
  const { method, ratePerHa, window, workedAgain } = stop;
  const rate = method === "liquid" ? units.rateLPerHa(ratePerHa) : units.rateKgPerHa(ratePerHa);
  const speed = units.windKph(kphFromMps(stop.speedMps));
  const told = (sentence: string) => inUnits(sentence, units);
  const ends = (window?.endsBecause ?? []).map(told);
  const after = intervalsAfter(stop, stand, timeZone);
  const timeWords = (time: { readonly date: string; readonly clock: string }) =>
    `${shortDayWords(time.date)} ${time.clock}`;
  return (
    <Facts
      facts={[
        [
          words.window,
          window === null
            ? words.noWindow
            : `${words.windowSpan(clockOn(window.from, date), clockOn(window.to, date))}. ${ends.length > 0 ? words.endsBecause(`${ends.join("; ")}.`) : ""}`,
        ],
        [
          words.pause,
          stop.pauses
            .map(({ because, end, start }) =>
              [words.pauseSpan(clockOn(start, date), clockOn(end, date)), ...because.map(told)].join(" "),
            )
            .join(" "),
        ],
        [words.work[method], words.atRate(units.areaHa(stop.areaHa), rate)],
        [words.with, stop.aircraft],
        [words.fly, words.flyAs(stop.passes, Math.round(stop.headingDeg), speed)],
        [words.batteries, stop.batteryChanges > 0 ? words.batteryChanges(stop.batteryChanges) : ""],
        [
          words.pad,
          <span key="pad">
            {stop.padId}: <GeoLink latDeg={stop.padLatDeg} lonDeg={stop.padLonDeg} />
          </span>,
        ],
        [
          words.reentry,
          `${after.reentry}${workedAgain === null ? "" : `; ${words.workedAgain(timeWords(workedAgain))}`}`,
        ],
        [words.harvest, after.harvest],
        [words.growerCrop, `${stop.grower}, ${stop.crop}`],
        [words.order, stop.orderId],
      ]}
    />
  );
}
