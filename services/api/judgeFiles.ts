import type { FilesAnswer } from "../../shared/contracts/operations.ts";
import { documentDifference } from "../../shared/model/documentDifference.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { counted } from "../../shared/plan/words.ts";
import { type FileFault, wholeFile } from "../scenario/faults.ts";
import { readFiles, type ScenarioOutcome, type TextOutcome } from "../scenario/readFiles.ts";
import { refuse, shortened } from "./problems.ts";
import { excessOf, mostValues } from "./readBody.ts";
import type { Answer } from "./route.ts";
import { unstorableTexts } from "./storableText.ts";

type Files = Readonly<Record<string, string>>;
type Before = NonNullable<Parameters<typeof readFiles>[2]>;

/** What is wrong with files that people have sent, by file and place in it. */
export type FilesJudged =
  | Extract<ScenarioOutcome, { readonly ok: true }>
  | { readonly ok: false; readonly refusal: Answer };

/** Judged as the command line judges a folder. With `before` the files take the place of those that the operation was made of. */
export function judgeFiles(files: Files, before: Before | null): FilesJudged {
  const names = Object.keys(files);
  const excess = names.flatMap((name) => excessFault(name, files[name]!));
  if (excess.length > 0) return refused(excess);
  const texts = new Map<string, TextOutcome>(names.map((name) => [name, { text: withoutByteOrderMark(files[name]!) }]));
  const judged = readFiles(names, texts, before);
  if (!judged.ok) return refused(judged.faults);
  const unstorable = unstorableTexts(judged.operation).map(
    ({ expected, path, value }): FileFault => ({ file: names.join(", "), place: path.join("."), value, expected }),
  );
  const name = before?.operation.settings.name;
  if (name !== undefined && judged.operation.settings.name !== name) {
    unstorable.push({
      file: "operation.json",
      place: "name",
      value: judged.operation.settings.name,
      expected: `${JSON.stringify(name)}, by which the operation is known; another name is another operation`,
    });
  }
  return unstorable.length > 0 ? refused(unstorable) : judged;
}

export function filesAnswer(
  { defaultsUsed, operation }: Extract<ScenarioOutcome, { readonly ok: true }>,
  before: Operation | null,
  stored: FilesAnswer["operation"],
  isStored: boolean,
): FilesAnswer {
  return {
    stored: isStored,
    operation: stored,
    name: operation.settings.name,
    changes: documentDifference(before, operation).map(({ added, changed, name, removed, same }) => ({
      name,
      added: [...added],
      removed: [...removed],
      changed: [...changed],
      same,
    })),
    weather: weatherOf(operation),
    defaultsUsed,
  };
}

function weatherOf({ weather }: Operation): FilesAnswer["weather"] {
  if (weather.length === 0) return null;
  const byTime = [...weather].sort((a, b) => Date.parse(a.start) - Date.parse(b.start));
  return {
    stations: [...new Set(weather.map(({ stationId }) => stationId))],
    from: byTime[0]!.start,
    to: byTime.at(-1)!.start,
  };
}

/** As readBody judges a body: before anything is made of it. */
function excessFault(file: string, text: string): FileFault[] {
  const isTable = /[.]csv$/i.test(file);
  const cells = isTable ? (text.match(/[,\n]/g)?.length ?? 0) : 0;
  const excess = isTable ? cells > mostValues && `more than ${mostValues} cells` : excessOf(Buffer.from(text));
  return excess ? [{ file, place: wholeFile, value: excess, expected: `at most ${mostValues} values` }] : [];
}

const withoutByteOrderMark = (text: string) => text.replace(/^\ufeff/, "");

const refused = (faults: readonly FileFault[]): { readonly ok: false; readonly refusal: Answer } => ({
  ok: false,
  refusal: refuse(
    422,
    `${counted(faults.length, "fault", "faults")}; nothing was stored.`,
    faults.map(({ expected, file, place, value }) => shortened({ path: [file, place], value, expected })),
  ),
});
