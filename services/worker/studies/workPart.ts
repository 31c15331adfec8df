import type { PartWork } from "../partThreads.ts";

/** What a part comes to, as data; tells on the way how much of it is done. */
export type WorkPart<Result> = (work: PartWork, onShare: (share: number) => void) => Promise<Result>;
