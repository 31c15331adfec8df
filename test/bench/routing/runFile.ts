import { type RunRequest, runInstance } from "./runInstance.ts";

// A process of its own for one instance: its seconds are its own, and no run is warmed up by the one before.
process.send!(await runInstance(JSON.parse(process.argv[2]!) as RunRequest));
process.disconnect();
