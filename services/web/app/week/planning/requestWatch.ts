import type { PlanProgress, PlanRequest } from "../../../../../shared/contracts/planRequests.ts";
import { get, pathOf, SignedOut } from "../../api/call.ts";
import { follow } from "../../api/follow.ts";
import { whileSeen } from "../../kit/whileSeen.ts";
import { tellSignedOut } from "../../session/signedOut.ts";
import { type CurvePoint, withPoint } from "./progressCurve.ts";

/** A plan request as this browser has seen it. */
export interface WatchedRequest {
  readonly request: PlanRequest;
  readonly progress: PlanProgress | null;
  readonly servedHa: readonly CurvePoint[];
  readonly costCents: readonly CurvePoint[];
  /** The server does not answer at the moment. */
  readonly isSilent: boolean;
  /** It ended while it was watched, and nobody has put the notice away. */
  readonly isNews: boolean;
}

export interface Watch {
  subscribe(tell: () => void): () => void;
  now(): readonly WatchedRequest[];
  /** Something was asked for: look at once. */
  look(): void;
  dismiss(requestId: string): void;
}

/** Our choice: others may ask for plans, too, and nobody wants to load the page to see it. */
const lookEveryMs = 8_000;
const asked = 20;

const watches = new Map<string, Watch>();

/** What is planned for an operation, whoever has asked for it. Kept outside of the screens, so that showing another plan or room loses nothing of it. */
export function watchOf(operationId: string): Watch {
  const known = watches.get(operationId);
  if (known !== undefined) return known;
  const made = createWatch(operationId);
  watches.set(operationId, made);
  return made;
}

const isOpen = ({ status }: PlanRequest) => status === "queued" || status === "running";

function createWatch(operationId: string): Watch {
  const hearers = new Set<() => void>();
  const followed = new Map<string, () => void>();
  let watched: readonly WatchedRequest[] = [];
  let end: (() => void) | undefined;

  const set = (next: readonly WatchedRequest[]) => {
    watched = next;
    for (const hear of hearers) hear();
  };
  const change = (id: string, changed: (one: WatchedRequest) => WatchedRequest) =>
    set(watched.map((one) => (one.request.id === id ? changed(one) : one)));

  async function look(): Promise<void> {
    try {
      const path = pathOf`/api/operations/${operationId}/plans?limit=${String(asked)}`;
      const { planRequests } = await get<{ planRequests: PlanRequest[] }>(path);
      for (const request of planRequests) take(request);
    } catch (error) {
      if (error instanceof SignedOut) tellSignedOut();
      // Otherwise it is asked again soon.
    }
  }

  function take(request: PlanRequest, mayFollow = true): void {
    const known = watched.find((one) => one.request.id === request.id);
    if (known !== undefined) {
      const hasEnded = isOpen(known.request) && !isOpen(request);
      change(request.id, (one) => ({ ...one, request, isNews: one.isNews || hasEnded }));
    } else if (isOpen(request)) {
      const begun = { request, progress: null, servedHa: [], costCents: [], isSilent: false, isNews: false };
      set([...watched, begun]);
    }
    if (isOpen(request) && mayFollow) begin(request.id);
  }

  function begin(id: string): void {
    if (followed.has(id) || hearers.size === 0) return;
    const stop = follow<PlanProgress>(pathOf`/api/plan-requests/${id}/events`, {
      onProgress: (progress) =>
        change(id, (one) => ({
          ...one,
          request: { ...one.request, status: "running" },
          progress,
          isSilent: false,
          servedHa: withPoint(one.servedHa, { share: progress.share, value: progress.servedHa }),
          costCents: withPoint(one.costCents, { share: progress.share, value: progress.totalCents }),
        })),
      onDone: () => {
        followed.delete(id);
        // Where the stream was refused the next look follows it again, not this one.
        const ended = get<PlanRequest>(pathOf`/api/plan-requests/${id}`);
        ended.then(
          (request) => take(request, false),
          () => undefined,
        );
      },
      onSilence: () => change(id, (one) => ({ ...one, isSilent: true })),
    });
    followed.set(id, stop);
  }

  function watch(): () => void {
    void look();
    const timer = setInterval(() => void look(), lookEveryMs);
    return () => {
      clearInterval(timer);
      for (const stop of followed.values()) stop();
      followed.clear();
    };
  }

  return {
    subscribe(tell) {
      hearers.add(tell);
      if (hearers.size === 1) end = whileSeen(watch);
      return () => {
        hearers.delete(tell);
        if (hearers.size > 0) return;
        end?.();
      };
    },
    now: () => watched,
    look: () => void look(),
    dismiss: (requestId) => set(watched.filter(({ request }) => request.id !== requestId || isOpen(request))),
  };
}
