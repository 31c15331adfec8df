import { createHash } from "node:crypto";
import { promisify } from "node:util";
import { gzip } from "node:zlib";

/** What never changes once it is made, as it goes out. */
export interface Rendered {
  readonly plain: Buffer;
  readonly gzipped: Buffer;
  /** Of the plain bytes. */
  readonly etag: string;
  /** Of a file: the name to keep it by. */
  readonly fileName?: string;
}

/** Goes out as it is, where all else goes out as JSON. */
export class FileBody {
  readonly bytes: Buffer;
  readonly fileName: string;
  constructor(bytes: Buffer, fileName: string) {
    this.bytes = bytes;
    this.fileName = fileName;
  }
}

/** Keeps what was read last, so that the second reader of a week costs next to nothing. */
export interface ViewCache {
  /** `make` is only asked where the view is not kept; of readers that come at once it is asked for one. Null is not kept. */
  get(key: string, make: () => Promise<unknown>): Promise<Rendered | null>;
}

const compress = promisify(gzip);
/** Our choice: some thirty weeks of 500 orders. */
const mostBytes = 64 * 1024 * 1024;

export function createViewCache(most = mostBytes): ViewCache {
  // A map keeps the order in which keys came: the first is the one that was read the longest ago.
  const kept = new Map<string, Rendered>();
  const making = new Map<string, Promise<Rendered | null>>();
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
  const makeNow = async (key: string, make: () => Promise<unknown>) => {
    const body = await make();
    if (body === null) return null;
    const view = await render(body);
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
      return made;
    },
  };
}

export async function render(body: unknown): Promise<Rendered> {
  const file = body instanceof FileBody ? body : null;
  const plain = file?.bytes ?? Buffer.from(JSON.stringify(body));
  const etag = createHash("sha256").update(plain).digest("base64url").slice(0, 22);
  return { plain, gzipped: await compress(plain), etag, ...(file && { fileName: file.fileName }) };
}

const sizeOf = ({ plain, gzipped }: Rendered) => plain.length + gzipped.length;
