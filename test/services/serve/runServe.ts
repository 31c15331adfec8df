import { serve } from "../../../services/cli/serve.ts";
import { readSettings } from "../../../services/cli/settings.ts";
import { consoleLog } from "../../../services/sight/log.ts";

/** Run as a process of its own by the tests. */
const read = readSettings(process.env);
if (!read.ok) throw new Error(read.message);
const { exitCode } = await serve({
  settings: read.settings,
  withWorker: true,
  log: consoleLog(read.settings.logForm, "serve"),
});
process.exitCode = exitCode;
