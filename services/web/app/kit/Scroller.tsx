import type { ReactNode } from "react";

/** What is wider than a phone is moved sideways by itself, by keyboard too. */
export const Scroller = ({ children, name }: { readonly name: string; readonly children: ReactNode }) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: without it nobody could scroll by keyboard.
  <section className="scroller" aria-label={name} tabIndex={0}>
    {children}
  </section>
);
