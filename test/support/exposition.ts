export interface Sample {
  readonly name: string;
  readonly labels: Readonly<Record<string, string>>;
  readonly value: number;
}

/** Reads figures as Prometheus does: text exposition format 0.0.4 (prometheus.io/docs/instrumenting/exposition_formats). Throws at whatever it does not allow. */
export function parseExposition(text: string): Sample[] {
  if (!text.endsWith("\n")) throw new Error("the last line has no end");
  const samples: Sample[] = [];
  const types = new Map<string, string>();
  const seen = new Set<string>();
  for (const line of text.split("\n")) {
    if (line === "") continue;
    const type = /^# TYPE ([a-zA-Z_:][a-zA-Z0-9_:]*) (counter|gauge|histogram|summary|untyped)$/.exec(line);
    if (type) {
      if (types.has(type[1]!)) throw new Error(`two types: ${line}`);
      types.set(type[1]!, type[2]!);
      continue;
    }
    if (/^# HELP [a-zA-Z_:][a-zA-Z0-9_:]* /.test(line)) continue;
    const sample = /^([a-zA-Z_:][a-zA-Z0-9_:]*)(?:\{(.*)\})? (\S+)$/.exec(line);
    if (!sample) throw new Error(`not a sample: ${line}`);
    const [, name, inBraces = "", number] = sample;
    const labels = Object.fromEntries(
      [...inBraces.matchAll(/([a-zA-Z_][a-zA-Z0-9_]*)="((?:[^"\\\n]|\\.)*)"(?:,|$)/g)].map(([, key, value]) => [
        key,
        value!,
      ]),
    );
    const value = number === "+Inf" ? Infinity : number === "-Inf" ? -Infinity : Number(number);
    if (Number.isNaN(value) && number !== "NaN" && number !== "Nan") throw new Error(`not a number: ${line}`);
    const family = name!.replace(/_(bucket|sum|count)$/, "");
    if (!types.has(name!) && !types.has(family)) throw new Error(`of no type: ${line}`);
    const key = `${name}${JSON.stringify(Object.entries(labels).sort())}`;
    if (seen.has(key)) throw new Error(`told twice: ${line}`);
    seen.add(key);
    samples.push({ name: name!, labels, value });
  }
  return samples;
}

/** Of the one sample with this name and these labels, among others. */
export function sampleValue(
  samples: readonly Sample[],
  name: string,
  labels: Readonly<Record<string, string>>,
): number {
  const found = samples.filter(
    (sample) => sample.name === name && Object.entries(labels).every(([key, value]) => sample.labels[key] === value),
  );
  if (found.length !== 1) throw new Error(`${found.length} samples of ${name} ${JSON.stringify(labels)}`);
  return found[0]!.value;
}
