import { caution } from "../plan/caution.ts";
import { wrapped } from "../plan/textTable.ts";
import { counted } from "../plan/words.ts";
import type { GroupRemedies, Remedies } from "./remedy.ts";

/** For a terminal: what each group of orders lacks, and what would help, best first; then those that nothing helps. */
export function remediesText({ groups, iterations }: Remedies): string {
  if (groups.length === 0) return "Everything that was asked for is planned; there is nothing to remedy.";
  const helped = groups.filter(({ remedies }) => remedies.length > 0);
  const others = groups.filter(({ remedies }) => remedies.length === 0);
  const tried = groups.reduce((sum, group) => sum + group.tried, 0);
  return [
    ...helped.flatMap(groupLines),
    ...(others.length === 0 ? [] : ["Nothing was found that would help", ...others.flatMap(noneLines), ""]),
    ...wrapped(
      `${counted(tried, "change", "changes")} tried, each by planning again from the present plan (${iterations} iterations), what won something more often and longer. What is told is what all of these plans won over the same searches without the change; the costs are those of the dearer plan.`,
      0,
    ),
    "",
    ...wrapped(caution, 0),
  ].join("\n");
}

function groupLines({ group, remedies, ...counts }: GroupRemedies): string[] {
  return [
    ...wrapped(group.sentence, 0),
    ...remedies.flatMap(({ sentence }, at) => {
      const [first, ...rest] = wrapped(sentence, 5);
      return [`  ${at + 1}. ${first!.trimStart()}`, ...rest];
    }),
    ...wrapped(countsWords(counts), 2),
    "",
  ];
}

function noneLines({ group, ...counts }: GroupRemedies): string[] {
  return [...wrapped(group.sentence, 2), ...wrapped(countsWords(counts), 4)];
}

function countsWords({ tried, screened, leftOut }: Pick<GroupRemedies, "tried" | "screened" | "leftOut">): string {
  const words = [
    ...(tried > 0 ? [`${tried} tried`] : []),
    ...(screened > 0 ? [`${screened} seen to help nobody`] : []),
    ...(leftOut > 0 ? [`${leftOut}${tried + screened > 0 ? " more" : ""} not tried, or not to the end`] : []),
  ];
  return words.length === 0 ? "(there is nothing to try that keeps every rule)" : `(${words.join(", ")})`;
}
