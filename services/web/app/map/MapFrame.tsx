import type { Map as LeafletMap } from "leaflet";
import { type ReactNode, useEffect, useId, useRef, useState } from "react";
import type { Bounds } from "../../../../shared/plan/mapPlaces.ts";
import { mapWords } from "../strings/map.ts";
import { useUnitSystem } from "../units/units.ts";
import { DegreesAtEdge } from "./DegreesAtEdge.tsx";
import { createGround, fitTo, isWellSeen } from "./ground.ts";
import { metresPerPx, type ScaleBar, scaleBar } from "./scale.ts";
import { widthByHeight } from "./unwrap.ts";
import "./map.css";

const widestScalePx = 120;
/** Our choice: from farther away an outline of the usual width hides what it is around. */
const thinFromMPerPx = 30;

/** The frame of a map: the ground with its scale and buttons. `onMap` is told once when there is something to draw on, and null when it is gone. */
export function MapFrame({
  bounds,
  children,
  fitKey = bounds.join(" "),
  name,
  onMap,
  shape = null,
  whole = null,
}: {
  readonly name: string;
  /** What is fitted into the frame when it is first seen, by the button, and when it changes, unless somebody has brought it well into view already. */
  readonly bounds: Bounds;
  /** Where bounds change while somebody works: another key fits them anew, not the bounds themselves. */
  readonly fitKey?: string;
  readonly onMap: (map: LeafletMap | null) => void;
  /** What the frame is as wide and high as, so that a long valley leaves no empty ground; null: as high as a map usually is. */
  readonly shape?: Bounds | null;
  /** Of what the bounds are a part; null: they are all there is. */
  readonly whole?: { readonly bounds: Bounds; readonly words: string } | null;
  readonly children?: ReactNode;
}) {
  const ground = useRef<HTMLDivElement>(null);
  const [map, setMap] = useState<LeafletMap | null>(null);
  const hintId = useId();
  const isMoved = useRef(false);
  const wanted = useRef(bounds);
  const tell = useRef(onMap);
  tell.current = onMap;

  useEffect(() => {
    const made = createGround(ground.current!);
    const resized = new ResizeObserver(() => {
      made.invalidateSize({ animate: false });
      // Fitted anew as long as nobody has moved it.
      if (!isMoved.current) fitTo(made, wanted.current);
    });
    resized.observe(ground.current!);
    const moved = () => {
      isMoved.current = true;
    };
    made.on("dragstart", moved);
    for (const way of ["wheel", "dblclick", "keydown"]) ground.current!.addEventListener(way, moved);
    made.on("zoomend", () => {
      const mPerPx = metresPerPx(made.getCenter().lat, made.getZoom());
      made.getContainer().classList.toggle("fromAfar", mPerPx > thinFromMPerPx);
    });
    setMap(made);
    tell.current(made);
    return () => {
      tell.current(null);
      resized.disconnect();
      made.remove();
    };
  }, []);

  // biome-ignore lint/correctness/useExhaustiveDependencies: the same bounds are not fitted again.
  useEffect(() => {
    if (map === null) return;
    if (isMoved.current && isWellSeen(map, bounds)) return;
    show(bounds);
  }, [map, fitKey]);

  const show = (shown: Bounds) => {
    isMoved.current = false;
    wanted.current = shown;
    if (map) fitTo(map, shown);
  };
  const zoomBy = (step: number) => {
    isMoved.current = true;
    map?.zoomIn(step);
  };
  return (
    <div className="mapFrame">
      <div
        className={shape === null ? "mapSheet" : "mapSheet shaped"}
        style={shape === null ? undefined : { aspectRatio: aspectOf(shape) }}
      >
        <div
          ref={ground}
          // Leaflet puts classes of its own here, which another value would take away.
          className="mapGround"
          role="application"
          aria-label={name}
          aria-describedby={hintId}
        />
        {map && <DegreesAtEdge map={map} />}
      </div>
      <p id={hintId} className="visuallyHidden">
        {mapWords.keys}
      </p>
      <div className="mapBar">
        <div className="mapButtons">
          <button type="button" aria-label={mapWords.nearer} title={mapWords.nearer} onClick={() => zoomBy(1)}>
            +
          </button>
          <button type="button" aria-label={mapWords.farther} title={mapWords.farther} onClick={() => zoomBy(-1)}>
            −
          </button>
          <button type="button" onClick={() => show(bounds)}>
            {whole === null ? mapWords.all : mapWords.chosen}
          </button>
          {whole !== null && (
            <button type="button" onClick={() => show(whole.bounds)}>
              {whole.words}
            </button>
          )}
        </div>
        {map && <Scale map={map} />}
      </div>
      {children}
    </div>
  );
}

/** Our choice: wider, and there is no room for names; higher, and the page is all map. */
const aspectOf = (shape: Bounds) => Math.min(2, Math.max(1, widthByHeight(shape)));

function Scale({ map }: { readonly map: LeafletMap }) {
  const system = useUnitSystem();
  const [view, setView] = useState(() => metresPerPx(map.getCenter().lat, map.getZoom()));
  useEffect(() => {
    const look = () => setView(metresPerPx(map.getCenter().lat, map.getZoom()));
    look();
    map.on("moveend zoomend", look);
    return () => void map.off("moveend zoomend", look);
  }, [map]);
  const bar: ScaleBar = scaleBar(view, widestScalePx, system);
  return (
    <p className="mapScale">
      <span className="bar" style={{ width: bar.widthPx }} aria-hidden="true" />
      <span>{bar.words}</span>
      <span className="north">
        <span aria-hidden="true">↑</span> {mapWords.north}
      </span>
    </p>
  );
}
