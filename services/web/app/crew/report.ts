import { say } from "../kit/Say.tsx";
import { type CrewDayKey, type Entry, putIn, setState } from "../offline/outbox.ts";
import { phoneStore } from "../offline/phoneStore.ts";
import { outboxChanged } from "../offline/sender.ts";
import { crewWords as words } from "../strings/crew.ts";
import { clockAt } from "./clockWords.ts";
import { correctionOf, type Heading, reportAt, reportOf, type Told } from "./makeReport.ts";
import type { DayReport } from "./stands.ts";

/** Makes the reports of a crew-day on this device. Each is on the disk before anybody is told that it is kept. */
export interface Reporter {
  tell(told: Told, blockId: string): Promise<boolean>;
  takeBack(one: DayReport): Promise<boolean>;
  /** At another time of the device's clock. */
  putRight(one: DayReport, at: string): Promise<boolean>;
  again(entry: Entry): Promise<void>;
  putAway(entry: Entry): Promise<void>;
}

export function reporter(
  day: CrewDayKey,
  {
    groundOfBlock,
    publication,
    timeZone,
  }: {
    readonly publication: number;
    readonly timeZone: string;
    readonly groundOfBlock: ReadonlyMap<string, string>;
  },
): Reporter {
  const heading = (): Heading => ({ id: crypto.randomUUID(), publication, at: new Date().toISOString() });
  const keep = async (what: string, made: Parameters<typeof putIn>[2]): Promise<boolean> => {
    try {
      await putIn(await phoneStore(), day, made, Date.now());
    } catch {
      say(words.notKept, true);
      return false;
    }
    say(words.saved(what, clockAt(made.at(-1)!.report.at, timeZone)));
    await outboxChanged();
    return true;
  };
  const change = async (entry: Entry, state: "waiting" | "putAway") => {
    await setState(await phoneStore(), entry, state);
    await outboxChanged();
  };
  return {
    tell(told, blockId) {
      const ground = groundOfBlock.get(blockId) ?? null;
      return keep(words.did[told.kind], [{ report: reportOf(told, blockId, heading()), ground }]);
    },
    takeBack: ({ report }) =>
      keep(words.did.correction, [{ report: correctionOf(report.id, words.takenBackWords, heading()), ground: null }]),
    putRight: ({ ground, report }, at) =>
      keep(words.did[report.kind], [
        { report: correctionOf(report.id, words.otherTimeWords, heading()), ground: null },
        { report: reportAt(report, { id: crypto.randomUUID(), at }), ground },
      ]),
    again: (entry) => change(entry, "waiting"),
    putAway: (entry) => change(entry, "putAway"),
  };
}
