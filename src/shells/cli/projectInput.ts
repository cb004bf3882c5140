/** A project from a file named on the command line, or complaints with file, line and column. */
import { excerpt } from "../../formats/excerpt";
import type { Problem } from "../../formats/problem";
import { MAX_CHARACTERS, readProject } from "../../formats/projectFile";
import type { Project } from "../../project/types";
import { decodeText } from "./decode";
import type { Surroundings } from "./engine";

/** More than any text of the longest project, whatever its characters. */
const MAX_BYTES = 4 * MAX_CHARACTERS;
const TOO_LARGE = "A project needs some thousands; check that this is the file you meant";

/** What a file is called in messages. */
export function labelOf(path: string): string {
  return path === "-" ? "stdin" : path === "" ? '""' : path;
}

/** `FILE:PLACE: code: message. remedy.`, one line. */
export function complaint(place: string, code: string, message: string, remedy: string): string {
  return `${place}: ${code}: ${message}. ${sentence(remedy)}\n`;
}

/** The text of a file, or null after a complaint. */
export function readText(
  path: string,
  mostBytes: number,
  around: Surroundings,
  tooLargeRemedy = "Check that this is the file you meant",
): string | null {
  const label = labelOf(path);
  const refuse = (place: string, code: string, message: string, remedy: string): null => {
    around.error(complaint(`${label}${place}`, code, message, remedy));
    return null;
  };
  const file = around.read(path, mostBytes);
  if (!file.ok) return refuse("", "cannotRead", file.reason, file.remedy);
  if (file.bytes.length > mostBytes) {
    const message = `the file has more than ${mostBytes} bytes`;
    return refuse("", "tooLarge", message, tooLargeRemedy);
  }
  const decoded = decodeText(file.bytes);
  if (decoded.ok) return decoded.text;
  const { line, column, code, message, remedy } = decoded;
  return refuse(`:${line}:${column}`, code, message, remedy);
}

/** The project of a file, or null after complaints; what was changed in reading is noticed in words. */
export function projectFrom(path: string, around: Surroundings): Project | null {
  const label = labelOf(path);
  const text = readText(path, MAX_BYTES, around, TOO_LARGE);
  if (text === null) return null;
  const reading = readProject(text);
  if (!reading.ok) {
    for (const problem of reading.problems) around.error(complaintOf(label, text, problem));
    if (reading.omitted > 0) around.error(`${label}: and ${reading.omitted} more.\n`);
    return null;
  }
  for (const notice of reading.notices) {
    around.error(`${label}: notice: ${notice.place}: ${notice.message}.\n`);
  }
  return reading.project;
}

/** The complaint and the lines round it. */
function complaintOf(label: string, text: string, problem: Problem): string {
  const { line, column, code, message, remedy } = problem;
  const head = complaint(`${label}:${line}:${column}`, code, message, remedy);
  const lines = excerpt(text.startsWith("\ufeff") ? text.slice(1) : text, line, column);
  // Of an empty file, or one that is far too long, there is nothing worth showing.
  return code === "emptyFile" || code === "tooLarge"
    ? head
    : `${head}${lines.replace(/^/gm, "  ")}\n`;
}

/** With a capital letter and a full stop, where it has neither question mark nor stop of its own. */
function sentence(words: string): string {
  const capital = `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
  return /[.?!]$/.test(capital) ? capital : `${capital}.`;
}
