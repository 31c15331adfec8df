import type { Map as LeafletMap } from "leaflet";
import { type ReactNode, useEffect, useId, useRef, useState } from "react";
import type { Bounds } from "../../../../shared/plan/mapPlaces.ts";
import { mapWords } from "../strings/map.ts";
import { useUnitSystem } from "../units/units.ts";
import { createGround, fitTo } from "./ground.ts";
import { metresPerPx, type ScaleBar, scaleBar } from "./scale.ts";
import { widthByHeight } from "./unwrap.ts";
import "./map.css";

const widestScalePx = 120;
/** Our choice: passes some metres apart are lines from here on, and have room for arrows from there. */
const passesFromMPerPx = 2;
const passArrowsFromMPerPx = 0.8;
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
}: {
  readonly name: string;
  /** What is fitted into the frame when it is first seen, when it changes, and by the button. */
  readonly bounds: Bounds;
  /** Where bounds change while somebody works: another key fits them anew, not the bounds themselves. */
  readonly fitKey?: string;
  readonly onMap: (map: LeafletMap | null) => void;
  /** What the frame is as wide and high as, so that a long valley leaves no empty ground; null: as high as a map usually is. */
  readonly shape?: Bounds | null;
  readonly children?: ReactNode;
}) {
  const ground = useRef<HTMLDivElement>(null);
  const [map, setMap] = useState<LeafletMap | null>(null);
  const hintId = useId();
  const fitted = useRef("");
  const wanted = useRef(bounds);
  wanted.current = bounds;
  const tell = useRef(onMap);
  tell.current = onMap;

  useEffect(() => {
    const made = createGround(ground.current!);
    const resized = new ResizeObserver(() => {
      made.invalidateSize({ animate: false });
      // Fitted anew as long as nobody has moved it.
      if (fitted.current !== "moved") fitTo(made, wanted.current);
    });
    resized.observe(ground.current!);
    made.on("dragstart", () => {
      fitted.current = "moved";
    });
    made.on("zoomend", () => {
      const mPerPx = metresPerPx(made.getCenter().lat, made.getZoom());
      const { classList } = made.getContainer();
      classList.toggle("withoutPasses", mPerPx > passesFromMPerPx);
      classList.toggle("fromAfar", mPerPx > thinFromMPerPx);
      classList.toggle("withoutPassArrows", mPerPx > passArrowsFromMPerPx);
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
    fitted.current = fitKey;
    fitTo(map, bounds);
  }, [map, fitKey]);

  const zoomBy = (step: number) => {
    fitted.current = "moved";
    map?.zoomIn(step);
  };
  return (
    <div className="mapFrame">
      <div
        ref={ground}
        className={shape === null ? "mapGround" : "mapGround shaped"}
        style={shape === null ? undefined : { aspectRatio: widthByHeight(shape) }}
        role="application"
        aria-label={name}
        aria-describedby={hintId}
      />
      <p id={hintId} className="visuallyHidden">
        {mapWords.keys}
      </p>
      <div className="mapButtons">
        <button type="button" aria-label={mapWords.nearer} title={mapWords.nearer} onClick={() => zoomBy(1)}>
          +
        </button>
        <button type="button" aria-label={mapWords.farther} title={mapWords.farther} onClick={() => zoomBy(-1)}>
          −
        </button>
        <button
          type="button"
          onClick={() => {
            fitted.current = "";
            if (map) fitTo(map, bounds);
          }}
        >
          {mapWords.all}
        </button>
      </div>
      {map && <Scale map={map} />}
      {children}
    </div>
  );
}

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
