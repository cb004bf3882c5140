import { resolve } from "node:path";

/** The project folder. */
export const ROOT = resolve(import.meta.dirname, "../..");
