import { useSyncExternalStore } from "react";

let waiting: ServiceWorker | null = null;
const hearers = new Set<() => void>();
const lookEveryMs = 30 * 60_000;

/** Whether a newer build lies ready, which is used when the reader says so or all tabs are closed. */
export const useNewBuild = (): boolean =>
  useSyncExternalStore(
    (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
    () => waiting !== null,
  );

/** Begins anew with the newer build; what has been reported is on the disk. */
export function takeNewBuild(): void {
  waiting?.postMessage("useNow");
}

/** Keeps the screens of this build on the device, so that they open without a network. Where a browser has no service workers, or the page has no https, they do not. */
export async function keepScreens(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  const { serviceWorker } = navigator;
  let hadOne = serviceWorker.controller !== null;
  serviceWorker.addEventListener("controllerchange", () => {
    // The first one takes over a page of its own build; any later one brings another build.
    if (hadOne) location.reload();
    hadOne = true;
  });
  const registration = await serviceWorker.register("/sw.js", { updateViaCache: "none" });
  const look = () => {
    waiting = serviceWorker.controller === null ? null : registration.waiting;
    for (const hear of hearers) hear();
  };
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", look);
  });
  look();
  const update = () => void registration.update().catch(() => undefined);
  setInterval(update, lookEveryMs);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") update();
  });
}
