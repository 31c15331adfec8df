import { Component, type ReactNode } from "react";
import { mapWords } from "../strings/map.ts";

/** A map that fails says so and takes nothing else with it: what it shows stands in words beside it. */
export class MapGuard extends Component<{ readonly children: ReactNode }, { readonly failed: boolean }> {
  override state = { failed: false };

  static getDerivedStateFromError() {
    return { failed: true };
  }

  override render() {
    if (!this.state.failed) return this.props.children;
    return <p role="alert">{mapWords.failed}</p>;
  }
}
