import { type AskedThreadLimits, createAskedThread } from "../threads/askedThread.ts";
import type { ViewAnswer, ViewQuestion } from "./messages.ts";
import type { MadeView, RecordPaper, Viewed, Wanted } from "./wanted.ts";

export type { Look, MadeView, RecordPaper, Viewed, Wanted } from "./wanted.ts";

/** Null where there is nothing of the kind. `busy`: too much is waiting, or the thread that was at it has ended; asking again may do. */
export type Asked = MadeView | null | "busy";

export interface ViewAsk {
  readonly planId: string;
  readonly wanted: Wanted;
  /** Read only where the thread does not have it yet; null where there is no such plan. */
  readonly readViewed: () => Promise<Viewed | null>;
}

/** Makes what people read of plans, away from the thread that answers callers: the calm hours of a week take a second. */
export interface ViewMaker {
  ofPlan(ask: ViewAsk): Promise<Asked>;
  record(paper: RecordPaper): Promise<Asked>;
  close(): Promise<void>;
}

export interface ViewMakerOptions {
  readonly onError: (error: unknown) => void;
  readonly limits?: Partial<AskedThreadLimits>;
  readonly script?: URL;
}

/** Our choice: as many as the crew-days of a large week, which all phones ask for at once when it is published; a calm view of 2,000 orders takes some ten seconds. */
const usualLimits: AskedThreadLimits = { most: 256, silentMs: 60_000, restMs: 30 * 60_000 };
const ownScript = new URL("./viewThread.ts", import.meta.url);

/** Two threads, so that no screen waits for papers. */
export function createViewMaker({ onError, limits, script = ownScript }: ViewMakerOptions): ViewMaker {
  const open = (name: string) => openThread(name, script, { ...usualLimits, ...limits }, onError);
  const [views, papers] = [open("views"), open("papers")];
  return {
    async ofPlan({ planId, wanted, readViewed }) {
      const thread = isQuick[wanted.kind] ? views : papers;
      const question = { kind: "ofPlan", planId, wanted } as const;
      const first = await thread.ask(question);
      if (first !== "needs") return first;
      const handed = await thread.hand(planId, readViewed);
      if (handed !== "kept") return handed;
      const second = await thread.ask(question);
      // Others have pushed the plan out between the two.
      return second === "needs" ? "busy" : second;
    },
    async record(paper) {
      const made = await papers.ask({ kind: "record", paper });
      return made === "needs" ? "busy" : made;
    },
    async close() {
      await Promise.all([views.close(), papers.close()]);
    },
  };
}

function openThread(name: string, script: URL, limits: AskedThreadLimits, onError: (error: unknown) => void) {
  const thread = createAskedThread<ViewQuestion, ViewAnswer>({ name, script, limits, onError });
  const handing = new Map<string, Promise<"kept" | "busy" | null>>();

  const handNow = async (planId: string, readViewed: ViewAsk["readViewed"]) => {
    const viewed = await readViewed();
    if (viewed === null) return null;
    const answer = await thread.ask({ kind: "keep", planId, viewed });
    return answer === "crashed" ? "busy" : "kept";
  };
  return {
    async ask(question: Exclude<ViewQuestion, { kind: "keep" }>): Promise<Asked | "needs"> {
      if (thread.isBusy()) return "busy";
      const answer = await thread.ask(question);
      if (answer === "crashed") return "busy";
      return answer.kind === "made" ? answer.view : "needs";
    },
    /** All who need it at once have it read and sent once. */
    hand(planId: string, readViewed: ViewAsk["readViewed"]): Promise<"kept" | "busy" | null> {
      const known = handing.get(planId);
      if (known !== undefined) return known;
      const fresh = handNow(planId, readViewed).finally(() => handing.delete(planId));
      handing.set(planId, fresh);
      return fresh;
    },
    close: thread.close,
  };
}

/** What screens wait for, made in tens of milliseconds. */
const isQuick: Readonly<Record<Wanted["kind"], boolean>> = {
  week: true,
  weekMap: true,
  sheet: true,
  dayMap: true,
  days: true,
  calm: false,
  sheetPdf: false,
  dayFile: false,
  fieldsFile: false,
  weekPdf: false,
  table: false,
  calendar: false,
};
