import type { WeatherStep } from "../../../../../shared/model/weather.ts";

const textColumns = ["stationId", "start"];

export type ReadWeather =
  | { readonly ok: true; readonly steps: readonly WeatherStep[] }
  | { readonly ok: false; readonly row: number };

/** Rows of a weather file (RFC 4180 without quotes, which no cell of one needs); what stands in the cells the server judges. Not ok: a row has more or fewer cells than the header. */
export function weatherFromCsv(text: string): ReadWeather {
  const lines = text.replace(/^\uFEFF/, "").split(/\r?\n/);
  const header = (lines[0] ?? "").split(",").map((name) => name.trim());
  const steps: WeatherStep[] = [];
  for (const [at, line] of lines.entries()) {
    if (at === 0 || line === "") continue;
    const cells = line.split(",");
    if (cells.length !== header.length) return { ok: false, row: at + 1 };
    const entries = header.flatMap((name, column): [string, string | number][] => {
      const cell = cells[column]!.trim();
      if (cell === "") return [];
      return [[name, textColumns.includes(name) || Number.isNaN(Number(cell)) ? cell : Number(cell)]];
    });
    steps.push(Object.fromEntries(entries) as unknown as WeatherStep);
  }
  return { ok: true, steps };
}
