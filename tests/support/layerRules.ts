/** The order of the layers, as a check on import lines. */
import { importsOf, resolveRelative, type SourceTexts } from "./sourceTree";

/** Lowest first; a file imports from its own layer and from lower ones. */
export const LAYERS = [
  "units",
  "math",
  "project",
  "physics",
  "protection",
  "simulation",
  "study",
  "formats",
  "shells",
  "state",
  "ui",
] as const;

const ON_TOP = "src/main.tsx";

/** Packages each layer may import; layers that are not named here may import none. */
const PACKAGES: Readonly<Record<string, RegExp>> = {
  math: /^(@stdlib\/|pure-rand\/)/,
  formats: /^zod(\/|$)/,
  shells: /^(node:|(vite|marked|ml-levenberg-marquardt)$)/,
  state: /^(zustand|react)(\/|$)/,
  ui: /^(?!node:)/,
  "main.tsx": /^react(-dom)?(\/|$)/,
};

/** Where two phenomena of physics may meet. */
const MEETING_PLACE = "stage";

/** What the check saw, so that a check that saw nothing cannot pass for one that found nothing. */
export interface LayerReport {
  readonly problems: readonly string[];
  readonly filesSeen: number;
  readonly importsSeen: number;
}

/** Reads every import of `texts` and names each file that breaks the order, and each cycle. */
export function checkLayers(texts: SourceTexts): LayerReport {
  const problems: string[] = [];
  const edges = new Map<string, readonly string[]>();
  let importsSeen = 0;
  for (const [path, text] of texts) {
    const layer = layerOf(path);
    if (rankOf(layer) < 0) problems.push(`${path}: "${layer}" is no layer`);
    const targets: string[] = [];
    for (const specifier of importsOf(path, text)) {
      importsSeen += 1;
      if (!specifier.startsWith(".")) {
        if (!PACKAGES[layer]?.test(specifier)) {
          problems.push(`${path}: ${layer} may not import the package ${specifier}`);
        }
        continue;
      }
      if (/\.(css|svg|json|woff2|md)(\?.*)?$/.test(specifier) || specifier.endsWith("/")) continue;
      const target = resolveRelative(texts, path, specifier);
      if (target === null) {
        if (!leavesSources(path)) problems.push(`${path}: ${specifier} names no source file`);
        continue;
      }
      targets.push(target);
      const breach = breachOf(path, target);
      if (breach !== null) problems.push(breach);
    }
    edges.set(path, targets);
  }
  problems.push(...cyclesIn(edges));
  return { problems, filesSeen: edges.size, importsSeen };
}

function layerOf(path: string): string {
  return path.split("/")[1] ?? "";
}

function rankOf(layer: string): number {
  if (`src/${layer}` === ON_TOP) return LAYERS.length;
  return LAYERS.indexOf(layer as (typeof LAYERS)[number]);
}

/** Scripts for Node name folders of the project and what they have built. */
function leavesSources(path: string): boolean {
  return path.startsWith("src/shells/node/");
}

function breachOf(from: string, to: string): string | null {
  const [fromLayer, toLayer] = [layerOf(from), layerOf(to)];
  if (rankOf(toLayer) > rankOf(fromLayer)) {
    return `${from}: ${fromLayer} may not import ${to}, which is higher`;
  }
  if (fromLayer !== "physics" || toLayer !== "physics") return null;
  const [fromFolder, toFolder] = [folderIn(from), folderIn(to)];
  if (fromFolder === toFolder || toFolder === "" || fromFolder === MEETING_PLACE) return null;
  return `${from}: ${fromFolder || "physics"} may not import ${to}; phenomena meet in physics/stage or in simulation`;
}

/** The phenomenon a file of physics belongs to; empty for files directly in src/physics, which serve all. */
function folderIn(path: string): string {
  const parts = path.split("/");
  return parts.length > 3 ? (parts[2] ?? "") : "";
}

/** One line for each cycle met on a depth-first walk. */
function cyclesIn(edges: ReadonlyMap<string, readonly string[]>): readonly string[] {
  const found: string[] = [];
  const done = new Set<string>();
  const trail: string[] = [];
  const follow = (path: string): void => {
    const at = trail.indexOf(path);
    if (at >= 0) {
      found.push(`import cycle: ${[...trail.slice(at), path].join(" -> ")}`);
      return;
    }
    if (done.has(path)) return;
    trail.push(path);
    for (const target of edges.get(path) ?? []) follow(target);
    trail.pop();
    done.add(path);
  };
  for (const path of edges.keys()) follow(path);
  return found;
}
