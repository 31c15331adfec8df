import { shortDateWords } from "../model/dateWords.ts";
import { textTable, wrapped } from "../plan/textTable.ts";
import { counted, hectares, kilometres, moneyWords } from "../plan/words.ts";
import type { PlanDifference, StopChange, StopPlace } from "./difference.ts";

/** The difference of two plans for a terminal. */
export function differenceText({ counts, before, now, changes, outfits }: PlanDifference): string {
  const lines = [
    `${counted(counts.kept, "stop stays", "stops stay")}, ${counts.moved} moved, ${counts.dropped} dropped, ${counts.added} added, ${counts.done} done; ${counted(counts.outfits, "outfit is another", "outfits are others")}.`,
    "",
    ...textTable(
      [
        ["", "before", "now"],
        ["stops", String(before.stops), String(now.stops)],
        ["ha", hectares(before.servedHa), hectares(now.servedHa)],
        ["km", kilometres(before.roadKm), kilometres(now.roadKm)],
        ["cost of the whole plan", moneyWords(before.totalCents), moneyWords(now.totalCents)],
        ["of that changes", moneyWords(before.changeCents), moneyWords(now.changeCents)],
      ],
      { indent: 2, right: [1, 2] },
    ),
  ];
  for (const { kind, heading } of kinds) {
    const ofKind = changes.filter((change) => change.kind === kind);
    if (ofKind.length > 0) lines.push("", heading);
    for (const change of ofKind) {
      const head = `${change.blockId} ${change.fieldName}, ${hectares(change.areaHa)} ha: ${placesWords(change)}`;
      lines.push(...wrapped(head, 2), ...wrapped(change.sentence, 4));
    }
  }
  if (outfits.length > 0) lines.push("", "Other outfits");
  for (const { crewName, date, before, now, sentence } of outfits) {
    lines.push(
      ...wrapped(`${crewName}, ${shortDateWords(date, date)}: ${now}, was ${before}`, 2),
      ...wrapped(sentence, 4),
    );
  }
  return `${lines.join("\n")}\n`;
}

const kinds: readonly { readonly kind: StopChange["kind"]; readonly heading: string }[] = [
  { kind: "moved", heading: "Moved" },
  { kind: "dropped", heading: "Dropped" },
  { kind: "added", heading: "Added" },
  { kind: "done", heading: "Done or under way" },
];

function placesWords({ before, now }: StopChange): string {
  if (now === null) return placeWords(before!);
  if (before === null) return placeWords(now);
  return `${placeWords(now)}, was ${placeWords(before)}`;
}

function placeWords({ crewName, date, clock }: StopPlace): string {
  return `${crewName}, ${shortDateWords(date, date)} ${clock}`;
}
