import { Worker } from "node:worker_threads";

/** A thread does not inherit the loader for TypeScript from how its process was started, so it registers it itself. */
const loader = import.meta.resolve("tsx/esm/api");
const bootstrap = (script: URL) =>
  `import(${JSON.stringify(loader)}).then(({ register }) => { register(); return import(${JSON.stringify(script.href)}); })`;

export function startThread(script: URL, workerData: unknown): Worker {
  return new Worker(bootstrap(script), { eval: true, workerData });
}
