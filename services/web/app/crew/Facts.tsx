import type { ReactNode } from "react";

export type Fact = readonly [name: string, value: ReactNode];

/** Names and values; what has no value is left out. */
export function Facts({ facts }: { readonly facts: readonly Fact[] }) {
  return (
    <dl className="facts">
      {facts
        .filter(([, value]) => value !== "" && value !== null && value !== false)
        .map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
    </dl>
  );
}
