import { runWeek, type WeekRequest } from "./runWeek.ts";

/** One run in a process of its own, for the most memory that it ever held. */
process.send!(await runWeek(JSON.parse(process.argv[2]!) as WeekRequest));
process.disconnect();
