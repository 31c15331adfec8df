import { type ReactNode, useEffect, useRef, useState } from "react";
import { weekWords as words } from "../../strings/week.ts";

/** So much of what is seen goes by at a press; the rest is there to find one's way by. */
const stepFrac = 0.7;

/** The days, which scroll to the side where the window is narrow; at an edge behind which there is more it says so. */
export function SideScroll({ children }: { readonly children: ReactNode }) {
  const scroller = useRef<HTMLDivElement>(null);
  const [more, setMore] = useState({ earlier: false, later: false });
  useEffect(() => {
    const element = scroller.current!;
    const look = () => {
      const { clientWidth, scrollLeft, scrollWidth } = element;
      const earlier = scrollLeft > 1;
      const later = scrollLeft + clientWidth < scrollWidth - 1;
      setMore((before) => (before.earlier === earlier && before.later === later ? before : { earlier, later }));
    };
    const observer = new ResizeObserver(look);
    observer.observe(element);
    for (const day of element.children) observer.observe(day);
    element.addEventListener("scroll", look, { passive: true });
    return () => {
      observer.disconnect();
      element.removeEventListener("scroll", look);
    };
  }, []);
  const by = (direction: 1 | -1) => {
    const element = scroller.current!;
    element.scrollBy({ left: direction * stepFrac * element.clientWidth, behavior: "smooth" });
  };
  return (
    <div className="boardFrame">
      <div ref={scroller} className="boardScroller">
        {children}
      </div>
      {more.earlier && <Edge side="earlier" name={words.earlierHours} sign="‹" onPress={() => by(-1)} />}
      {more.later && <Edge side="later" name={words.laterHours} sign="›" onPress={() => by(1)} />}
    </div>
  );
}

function Edge({
  name,
  onPress,
  side,
  sign,
}: {
  readonly side: "earlier" | "later";
  readonly name: string;
  readonly sign: string;
  readonly onPress: () => void;
}) {
  return (
    <div className={`boardEdge ${side}`}>
      <button type="button" aria-label={name} title={name} onClick={onPress}>
        {sign}
      </button>
    </div>
  );
}
