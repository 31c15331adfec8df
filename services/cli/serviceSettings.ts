import { BadInput } from "./output.ts";
import { readSettings, type ServiceSettings } from "./settings.ts";

export function readServiceSettings(): ServiceSettings {
  const read = readSettings(process.env);
  if (!read.ok) throw new BadInput([read.message]);
  return read.settings;
}
