/** A thread does not inherit the loader for TypeScript from how its process was started, so it registers it itself. */
const loader = import.meta.resolve("tsx/esm/api");

/** A line of JavaScript that runs a TypeScript file in a thread. */
export function bootstrap(script: URL): string {
  return `import(${JSON.stringify(loader)}).then(({ register }) => { register(); return import(${JSON.stringify(script.href)}); })`;
}
