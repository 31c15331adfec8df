import { createElement, useState } from "react";
import { createRoot } from "react-dom/client";
import "../../../../../services/web/app/look/tokens.css";
import "../../../../../services/web/app/look/base.css";
import { DayMap } from "../../../../../services/web/app/map/DayMap.tsx";
import { DrawField } from "../../../../../services/web/app/map/DrawField.tsx";
import { WeekMapPanel } from "../../../../../services/web/app/map/WeekMapPanel.tsx";

/** The maps as the rooms have them: what they tell is kept, and told back. */
const screens = {
  week() {
    const [selected, onSelect] = useState(null);
    window.told = selected;
    return createElement(WeekMapPanel, { planId: "p", crews: window.given, selected, onSelect });
  },
  day() {
    const [stopNumber, onStop] = useState(null);
    window.told = stopNumber;
    return createElement(DayMap, { map: window.given, stopNumber, onStop });
  },
  draw() {
    const [value, onChange] = useState(window.given);
    window.told = value;
    return createElement(DrawField, { value, onChange });
  },
};
const { look, screen } = Object.fromEntries(new URLSearchParams(location.hash.slice(1)));
document.documentElement.dataset.look = look;
createRoot(document.getElementById("app")).render(createElement(screens[screen]));
