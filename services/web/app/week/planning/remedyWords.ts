import type { Remedy } from "../../../../../shared/cases/remedy.ts";
import { unplannedWords as words } from "../../strings/unplanned.ts";

const effectsBegin = /: [\d.]+ ha more \(/;

/** What to do, of a remedy's sentence: what it brings follows in the units that are chosen. */
export function remedyDeed({ sentence }: Pick<Remedy, "sentence">): string {
  const at = sentence.search(effectsBegin);
  return at < 0 ? sentence : sentence.slice(0, at);
}

/** Our choice: less than this of other orders, or of money, is not worth a word. */
const leastHa = 0.1;

/** What it brings and what it costs, each a few words. */
export function remedyEffects(
  { costCents, earnedCents, haWon, haWonInAll, hireCents, stopsDropped, stopsMoved }: Remedy,
  areaWords: (areaHa: number) => string,
  moneyWords: (cents: number) => string,
): string[] {
  const othersHa = haWonInAll - haWon;
  return [
    words.brings(areaWords(haWon)),
    ...(othersHa >= leastHa ? [words.others(areaWords(othersHa))] : []),
    ...(othersHa <= -leastHa ? [words.giveWay(areaWords(-othersHa))] : []),
    ...(stopsMoved > 0 ? [words.moves(stopsMoved)] : []),
    ...(stopsDropped > 0 ? [words.drops(stopsDropped)] : []),
    words.earned(moneyWords(Math.abs(earnedCents)), earnedCents < 0),
    words.toRun(moneyWords(Math.abs(costCents)), costCents < 0),
    ...(hireCents > 0 ? [words.hire(moneyWords(hireCents))] : []),
  ];
}
