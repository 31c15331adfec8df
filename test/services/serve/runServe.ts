import { serve } from "../../../services/cli/serve.ts";
import { readSettings } from "../../../services/cli/settings.ts";

/** Run as a process of its own by the tests. */
const read = readSettings(process.env);
if (!read.ok) throw new Error(read.message);
const { exitCode } = await serve({
  settings: read.settings,
  withWorker: true,
  say: (line) => process.stdout.write(`${line}\n`),
});
process.exitCode = exitCode;
