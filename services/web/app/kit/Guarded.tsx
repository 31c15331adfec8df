import { Component, type ReactNode } from "react";
import { common } from "../strings/common.ts";

/** One room that fails takes nothing else with it. */
export class Guarded extends Component<{ readonly children: ReactNode }, { readonly failed: boolean }> {
  override state = { failed: false };

  static getDerivedStateFromError() {
    return { failed: true };
  }

  override render() {
    if (!this.state.failed) return this.props.children;
    return (
      <div className="failure" role="alert">
        <p>{common.failed.page}</p>
      </div>
    );
  }
}
