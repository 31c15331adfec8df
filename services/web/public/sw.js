/*
 * Service worker (W3C Service Workers): hands out the screens of one build, whole and unmixed, with or without a network. `files` is written by services/web/build.ts: the path of every file of this
 * build and the SHA-256 of what is in it. Answers of the API are never kept here.
 */
const files = {};
const kept = `calmhour-${"{{build}}"}`;

self.addEventListener("install", (event) => {
  event.waitUntil(
    keepAll().catch(async (error) => {
      await caches.delete(kept);
      throw error;
    }),
  );
});

async function keepAll() {
  const cache = await caches.open(kept);
  await Promise.all(
    Object.entries(files).map(async ([path, digest]) => {
      const response = await fetch(path, { cache: "no-cache", credentials: "omit" });
      const body = await response.arrayBuffer();
      // A server that is just being replaced may hand out the files of another build.
      if (!response.ok || (await sha256(body)) !== digest) throw new Error(`${path} is of another build`);
      const headers = new Headers(response.headers);
      // The body is kept as it was before it was packed for the way.
      for (const name of ["content-encoding", "content-length"]) headers.delete(name);
      await cache.put(path, new Response(body, { headers }));
    }),
  );
}

async function sha256(body) {
  const bytes = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

self.addEventListener("activate", (event) => {
  event.waitUntil(begin());
});

async function begin() {
  const others = (await caches.keys()).filter((name) => name.startsWith("calmhour-") && name !== kept);
  await Promise.all(others.map((name) => caches.delete(name)));
  // So that the page which has brought it here has all of its rooms without a network, too.
  await self.clients.claim();
}

self.addEventListener("message", (event) => {
  if (event.data === "useNow") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { method, url } = event.request;
  const { origin, pathname } = new URL(url);
  if (method !== "GET" || origin !== self.location.origin) return;
  const path = pathname === "/" ? "/index.html" : pathname;
  if (!Object.hasOwn(files, path)) return;
  event.respondWith(caches.open(kept).then(async (cache) => (await cache.match(path)) ?? fetch(event.request)));
});
