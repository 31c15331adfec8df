import { useCallback, useEffect, useMemo, useState } from "react";
import type { CrewKey } from "../../../../shared/contracts/access.ts";
import type { CrewDayList } from "../../../../shared/contracts/plans.ts";
import { groundOf } from "../../../../shared/done/ground.ts";
import type { KeptReport } from "../../../../shared/done/workReport.ts";
import { keep, keptIn, keyOf } from "../offline/keptDays.ts";
import { isOfDay } from "../offline/outbox.ts";
import { phoneStore } from "../offline/phoneStore.ts";
import { useOutbox } from "../offline/sender.ts";
import { askDays, askMap, askReports, askSheet, type PublishedMap, type PublishedSheet } from "./askDay.ts";
import { type DayChange, dayChanges } from "./dayChanges.ts";
import { type DayReport, dayReports, type StopStand, standsOf } from "./stands.ts";
import { type KeptAnswer, useKept } from "./useKept.ts";

const lookEveryMs = 60_000;
const rarelyMs = 10 * 60_000;
/** Our choice: a week ahead is on the phone, and yesterday for whoever comes home after midnight. */
const daysKept = 8;

/** The days that the crew was told. What the chosen one and the next ones need is fetched ahead, so that it is there when the network is not. */
export function useDays(crew: CrewKey, isKept: boolean): KeptAnswer<CrewDayList> {
  const { crewId, operationId } = crew;
  const ask = useCallback((signal: AbortSignal) => askDays({ operationId, crewId }, signal), [operationId, crewId]);
  const days = useKept({ crew, key: keyOf(crew, "days"), ask, isKept, everyMs: lookEveryMs });
  const { error, value } = days;
  useEffect(() => {
    if (!isKept || value === null || error !== null) return;
    const stop = new AbortController();
    fetchAhead({ operationId, crewId }, value, stop.signal).catch(() => undefined);
    return () => stop.abort();
  }, [value, error, isKept, operationId, crewId]);
  return days;
}

async function fetchAhead(crew: CrewKey, { days, publication }: CrewDayList, signal: AbortSignal): Promise<void> {
  if (publication === null) return;
  const store = await phoneStore();
  const yesterdayMs = Date.now() - 36 * 3600_000;
  for (const { date } of days.filter((day) => Date.parse(day.back) > yesterdayMs).slice(0, daysKept)) {
    const asks = { sheet: askSheet, map: askMap };
    for (const [what, ask] of Object.entries(asks)) {
      const key = keyOf(crew, date, what);
      const kept = await keptIn<PublishedSheet | PublishedMap>(store, key);
      if (kept?.value.publication.number === publication.number || signal.aborted) continue;
      await keep(store, crew, key, (await ask(crew, date, signal)).body, Date.now());
    }
  }
}

export interface Day {
  readonly sheet: KeptAnswer<PublishedSheet>;
  /** Of the same publication as the sheet; null: not there (yet). */
  readonly map: PublishedMap["map"] | null;
  readonly reports: readonly DayReport[];
  readonly stands: ReadonlyMap<string, StopStand>;
  readonly groundOfBlock: ReadonlyMap<string, string>;
  readonly changes: readonly DayChange[];
  /** Somebody has read the changes. */
  readonly changesRead: () => void;
}

export function useDay(crew: CrewKey, date: string, publication: number | null, isKept: boolean): Day {
  const { crewId, operationId } = crew;
  const own = useMemo(() => ({ operationId, crewId }), [operationId, crewId]);
  const keyFor = (what: string) => keyOf(own, date, what);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another publication is another sheet and map.
  const forSheet = useCallback((signal: AbortSignal) => askSheet(own, date, signal), [own, date, publication]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: as above.
  const forMap = useCallback((signal: AbortSignal) => askMap(own, date, signal), [own, date, publication]);
  const sheet = useKept({ crew: own, key: keyFor("sheet"), ask: forSheet, isKept, everyMs: rarelyMs });
  const mapAnswer = useKept({ crew: own, key: keyFor("map"), ask: forMap, isKept, everyMs: rarelyMs });

  const { entries } = useOutbox();
  const ofDay = useMemo(
    () => (isKept ? entries.filter((entry) => isOfDay(entry, { ...own, date })) : []),
    [entries, isKept, own, date],
  );
  const sent = ofDay.filter(({ state }) => state === "sent").length;
  // biome-ignore lint/correctness/useExhaustiveDependencies: what was just sent is read back.
  const forReports = useCallback((signal: AbortSignal) => askReports(own, date, signal), [own, date, sent]);
  const stored = useKept<readonly KeptReport[]>({
    crew: own,
    key: keyFor("reports"),
    ask: forReports,
    isKept,
    everyMs: lookEveryMs,
  });

  const published = sheet.value;
  const map =
    mapAnswer.value?.publication.number === published?.publication.number ? (mapAnswer.value?.map ?? null) : null;
  const groundOfBlock = useMemo(() => new Map((map?.stops ?? []).map((stop) => [stop.blockId, groundOf(stop)])), [map]);
  const reports = useMemo(() => dayReports(stored.value ?? [], ofDay), [stored.value, ofDay]);
  const stands = useMemo(
    () => standsOf(published?.sheet.stops ?? [], reports, groundOfBlock),
    [published, reports, groundOfBlock],
  );
  const { changes, changesRead } = useChanges(own, keyFor("told"), published, isKept);
  return { sheet, map, reports, stands, groundOfBlock, changes, changesRead };
}

/** What is otherwise than when somebody last looked; the sheet of then stays on the phone until the changes have been read. */
function useChanges(crew: CrewKey, key: string, published: PublishedSheet | null, isKept: boolean) {
  const [told, setTold] = useState<PublishedSheet | null>(null);
  useEffect(() => {
    setTold(null);
    if (!isKept || published === null) return;
    let over = false;
    phoneStore()
      .then(async (store) => {
        const before = (await keptIn<PublishedSheet>(store, key))?.value;
        const isNews =
          before !== undefined &&
          before.publication.number < published.publication.number &&
          dayChanges(before.sheet, published.sheet).length > 0;
        if (isNews) {
          if (!over) setTold(before);
        } else await keep(store, crew, key, published, Date.now());
      })
      .catch(() => undefined);
    return () => {
      over = true;
    };
  }, [crew, key, published, isKept]);
  const changes = useMemo(
    () => (told === null || published === null ? [] : dayChanges(told.sheet, published.sheet)),
    [told, published],
  );
  const changesRead = () => {
    setTold(null);
    if (published === null) return;
    phoneStore()
      .then((store) => keep(store, crew, key, published, Date.now()))
      .catch(() => undefined);
  };
  return { changes, changesRead };
}
