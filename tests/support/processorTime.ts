/** Processor time of a piece of work, for hang guards that a busy machine must not set off. */

/** What the work returned, and the milliseconds of processor time it took, all threads of this process together. */
export function timed<T>(work: () => T): { readonly result: T; readonly tookMs: number } {
  const before = process.cpuUsage();
  const result = work();
  const { user, system } = process.cpuUsage(before);
  return { result, tookMs: (user + system) / 1000 };
}
