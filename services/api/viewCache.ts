import { createHash } from "node:crypto";
import { promisify } from "node:util";
import { gzip } from "node:zlib";
import { within } from "../threads/within.ts";
import type { MadeView } from "../views/viewMaker.ts";

/** What never changes once it is made, as it goes out. */
export interface Rendered {
  readonly plain: Buffer;
  readonly gzipped: Buffer;
  /** Of the plain bytes. */
  readonly etag: string;
  /** Of a file: the name to keep it by. */
  readonly fileName?: string;
}

/** Null where there is nothing of the kind; `busy`: it may be there when asked for again. */
export type Viewing = Rendered | null | "busy";

/** Keeps what was read last, so that the second reader of a week costs next to nothing. */
export interface ViewCache {
  /** `make` is only asked where the view is not kept; of readers that come at once it is asked for one. Null is not kept. What takes too long is `busy` and kept once it is made. */
  get(key: string, make: () => Promise<MadeView | null | "busy">): Promise<Viewing>;
}

const compress = promisify(gzip);
/** Our choice: some thirty weeks of 500 orders. */
const mostBytes = 64 * 1024 * 1024;

/** Our choice: less than a call may take in all. */
const usualWaitMs = 15_000;

export function createViewCache(most = mostBytes, waitMs = usualWaitMs): ViewCache {
  // A map keeps the order in which keys came: the first is the one that was read the longest ago.
  const kept = new Map<string, Rendered>();
  const making = new Map<string, Promise<Viewing>>();
  let bytes = 0;

  const keep = (key: string, view: Rendered) => {
    bytes += sizeOf(view);
    kept.set(key, view);
    for (const [oldest, old] of kept) {
      if (bytes <= most) break;
      bytes -= sizeOf(old);
      kept.delete(oldest);
    }
  };
  const makeNow = async (key: string, make: () => Promise<MadeView | null | "busy">) => {
    const made = await make();
    if (made === null || made === "busy") return made;
    const view = await render(made);
    keep(key, view);
    return view;
  };

  return {
    async get(key, make) {
      const known = kept.get(key);
      if (known !== undefined) {
        kept.delete(key);
        kept.set(key, known);
        return known;
      }
      const made = making.get(key) ?? makeNow(key, make).finally(() => making.delete(key));
      making.set(key, made);
      const inTime = await within(
        waitMs,
        made.then((view) => ({ view })),
      );
      return inTime === null ? "busy" : inTime.view;
    },
  };
}

export async function render({ bytes, fileName }: MadeView): Promise<Rendered> {
  const plain = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const etag = createHash("sha256").update(plain).digest("base64url").slice(0, 22);
  return { plain, gzipped: await compress(plain), etag, ...(fileName === null ? {} : { fileName }) };
}

/** A body that goes out as JSON. */
export const jsonOf = (body: unknown): MadeView => ({ bytes: Buffer.from(JSON.stringify(body)), fileName: null });

const sizeOf = ({ plain, gzipped }: Rendered) => plain.length + gzipped.length;
