import { comparisons, meanAndLargest } from "../support/judges.ts";
import { isWithin, type PublishedValue, publishedValues } from "../support/publishedValues.ts";
import { seededRandom } from "../support/seededRandom.ts";

/** Prints every published value beside ours, then random comparisons with libraries from outside. False when one is out of tolerance. */
export function benchChecks(): boolean {
  const rows = publishedValues.map((check) => ({ check, ok: isWithin(check) }));
  const head = ["ok", "part", "name", "expected", "got", "tolerance", "unit", "source"];
  const body = rows.map(({ check, ok }) => [
    ok ? "yes" : "NO",
    check.part,
    check.name,
    words(check.expected),
    words(check.got()),
    check.tolerance === 0 ? "exact" : String(check.tolerance),
    check.unit,
    check.source,
  ]);
  for (const line of wideTable([head, ...body])) console.log(line);
  const good = rows.filter(({ ok }) => ok).length;
  console.log(`${good} of ${rows.length} published values met`);

  const judged = comparisons.map(({ name, unit, mostMean, most, errors }, at) => {
    const all = errors(seededRandom(at + 1));
    const { mean, largest } = meanAndLargest(all);
    const ok = mean <= mostMean && largest <= most;
    console.log(
      `${ok ? "yes" : "NO "}  ${name}: ${all.length} times, mean error ${mean.toPrecision(2)} ${unit} (at most ${mostMean}), largest ${largest.toPrecision(2)} ${unit} (at most ${most})`,
    );
    return ok;
  });
  return good === rows.length && judged.every((ok) => ok);
}

function words(value: PublishedValue["expected"]): string {
  return typeof value === "number" ? String(Number(value.toFixed(4))) : value;
}

/** As wide as it must be: a table to look things up in, not to be printed on paper. */
function wideTable(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
  return rows.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column]!))
      .join("  ")
      .trimEnd(),
  );
}
