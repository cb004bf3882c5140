/** The whole page: its screens over one bench with its stores, the theme on the document, and words where something breaks. */
import {
  Activity,
  Component,
  type ComponentType,
  type ReactNode,
  Suspense,
  useEffect,
  useState,
} from "react";
import { useStore } from "zustand";
import { createWorkerPort } from "../shells/bench/ports";
import { createPlayback } from "../state/playback";
import { createProjectStore } from "../state/project";
import { createSettings } from "../state/settings";
import { later } from "./instruments/later";
import { BenchScreen } from "./screens/bench/BenchScreen";
import { BenchContext, type BenchStores } from "./screens/bench/benchContext";
import { type ScreenName, useScreen } from "./screens/screens";
import "./theme/sheet.css";
import "./instruments/instruments.css";
import "./instruments/controls/controls.css";
import "./instruments/time/time.css";
import "./screens/bench/bar.css";
import "./screens/bench/bench.css";
import "./screens/bench/projector.css";
import "./screens/bench/phone.css";
import "./screens/bench/page.css";
import "./screens/bench/dialogs.css";

/** Screens that are loaded when they are first gone to. */
const LATER: readonly (readonly [ScreenName, ComponentType, string])[] = [
  [
    "station",
    later(() => import("./screens/station/StationScreen")),
    "The station is being opened.",
  ],
  [
    "monitors",
    later(() => import("./screens/monitors/MonitorsScreen")),
    "The monitors are being opened.",
  ],
  [
    "coordination",
    later(() => import("./screens/coordination/CoordinationScreen")),
    "Coordination is being opened.",
  ],
  ["trials", later(() => import("./screens/trials/TrialsScreen")), "The trials are being opened."],
];

function createStores(): BenchStores {
  const playback = createPlayback(createWorkerPort());
  return { playback, projects: createProjectStore(playback), settings: createSettings() };
}

export function App() {
  const [stores] = useState(createStores);
  const screen = useScreen();
  const [seen, setSeen] = useState<readonly ScreenName[]>([screen]);
  if (!seen.includes(screen)) setSeen([...seen, screen]);
  useTheme(stores);
  useChartTips();
  return (
    <Guard>
      <BenchContext.Provider value={stores}>
        {/* a screen that is left stands still as it is: the bench's time, what was typed into a form */}
        <Activity mode={screen === "bench" ? "visible" : "hidden"}>
          <BenchScreen />
        </Activity>
        {LATER.filter(([name]) => seen.includes(name)).map(([name, Screen, wait]) => (
          <Activity key={name} mode={screen === name ? "visible" : "hidden"}>
            <Suspense fallback={<p className="screen-wait">{wait}</p>}>
              <Screen />
            </Suspense>
          </Activity>
        ))}
      </BenchContext.Provider>
    </Guard>
  );
}

/** Charts come after the first picture, and so does what puts their tips away. */
function useChartTips(): void {
  useEffect(() => {
    const watching = import("./chartTips").then(
      ({ watchChartTips }) => watchChartTips(),
      () => () => {}, // without the network a tip stays until the pointer leaves the chart
    );
    return () => void watching.then((stop) => stop());
  }, []);
}

/** Theme and motion as attributes of the document, where the style sheets look for them. */
function useTheme({ settings }: BenchStores): void {
  const { theme, projector, motion } = useStore(settings.store);
  useEffect(() => {
    const dark = window.matchMedia("(prefers-color-scheme: dark)");
    const apply = (): void => {
      const wanted = theme === "system" ? (dark.matches ? "dark" : "light") : theme;
      const root = document.documentElement;
      root.dataset.theme = projector ? "projector" : wanted;
      root.dataset.motion = motion;
    };
    apply();
    dark.addEventListener("change", apply);
    return () => dark.removeEventListener("change", apply);
  }, [theme, projector, motion]);
}

/** Says in words that the page broke, instead of a blank sheet. */
class Guard extends Component<
  { readonly children: ReactNode },
  { readonly broken: string | null }
> {
  override state = { broken: null };

  static getDerivedStateFromError(error: unknown): { readonly broken: string } {
    return { broken: error instanceof Error ? error.message : String(error) };
  }

  override render(): ReactNode {
    if (this.state.broken === null) return this.props.children;
    return (
      <main className="broken">
        <h1>Quietarc</h1>
        <p>The page has a fault of its own and stopped: {this.state.broken}</p>
        <p>
          <a href="./">Start it again</a>. What was saved as a file is not touched.
        </p>
      </main>
    );
  }
}
