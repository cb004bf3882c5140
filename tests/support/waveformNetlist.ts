/**
 * The cathode-driven stage as a netlist for the circuit simulator ngspice, written from Kirchhoff's laws and the
 * tube's law alone, and the Fourier analysis of what it computes. Nothing here is shared with the product's solver.
 *
 *   u  = vg + vp/mu, vg = -vk, vp plate to cathode; ik = K pos(u, su)^1.5
 *   ip = ik b/(a+b), a = sqrt(pos(vg, sg)), b = delta sqrt(pos(vp, sp)); ig = ik - ip
 *   pos(x, s) = 0 below -s | (x+s)^2/(4s) | x above s
 *
 * The plate supply is stiff and stands as a battery between plate and tank: an ideal choke feed with an ideal
 * blocking capacitor. Peak values, seconds, SI.
 */

/** What one circuit is made of. */
export interface WaveformInput {
  readonly f: number;
  readonly tube: {
    readonly mu: number;
    readonly K: number;
    readonly delta: number;
    readonly su: number;
    readonly sg: number;
    readonly sp: number;
  };
  readonly Eb: number;
  readonly Ek: number;
  readonly Rs: number;
  readonly Rkloss: number;
  readonly Pd: number;
  readonly net: {
    readonly C1: number;
    readonly L: number;
    readonly rL: number;
    readonly C2: number;
    readonly Lrfc: number;
    readonly Ck: number;
    readonly Lk: number;
    readonly n: number;
  };
  readonly load: { readonly G: number; readonly B: number };
  /** Elements that stand from node o on, in place of the load: an output coil, a line, an antenna. */
  readonly beyond?: readonly string[];
  /** Node 1 the tuning capacitor, 2 the loading capacitor, 3 the coil tap. */
  readonly arc: WaveformArc | null;
  /** Fraction of the coil between tap and output. */
  readonly tap: number;
}

export interface WaveformArc {
  readonly node: number;
  readonly model: string;
  readonly V: number;
  readonly tau?: number;
  readonly g0: number;
  /** Slope of a clamp, i = Gc (|v| - V) sign(v); no part of the plasma's law. */
  readonly Gc?: number;
}

export interface WaveformRun {
  readonly cycles: number;
  readonly stepsPerCycle: number;
  /** Length of each of the two windows at the end that are analysed and compared. */
  readonly windowCycles: number;
  /** Direct current the choke starts with; shortens the run, does not change where it ends. */
  readonly chokeA: number;
}

/** Netlist; ngspice takes its first line as the title. */
export function waveformNetlist(title: string, c: WaveformInput, run: WaveformRun): string {
  const { tube: t, net, load } = c;
  const omega = 2 * Math.PI * c.f;
  const period = 1 / c.f;
  const stop = run.cycles * period;
  const keep = stop - (2 * run.windowCycles + 1) * period;
  const step = period / run.stepsPerCycle;
  const split = c.arc !== null && c.arc.node === 3;
  const far = split ? c.tap : 1;
  const at = c.arc === null ? "" : ["p", "o", "t"][c.arc.node - 1];
  return [
    title,
    ".func pos(x,s) {x < -s ? 0 : (x > s ? x : (x+s)*(x+s)/(4*s))}",
    ".func root(x,s) {x < -s ? 0 : (x > s ? sqrt(abs(x)+1e-12) : (x+s)/(2*sqrt(s)))}",
    // input: source, ideal transformer 1:n, tuned circuit, all returned to the bias supply
    `Vs s 0 SIN(0 ${2 * Math.sqrt(2 * c.Rs * c.Pd)} ${c.f})`,
    `Rs s x ${c.Rs}`,
    `Ext y b x 0 ${net.n}`,
    "Vxt y k 0",
    `Fxt x 0 Vxt ${net.n}`,
    `Vb b 0 ${c.Ek}`,
    `Lk k b ${net.Lk} IC=0`,
    `Ck k b ${net.Ck} IC=0`,
    `Rk k b ${c.Rkloss}`,
    // tube: node d is the plate, node p the same RF voltage without the direct one
    `Vp d p ${c.Eb}`,
    `Bu u 0 V=-v(k)+(v(d)-v(k))/${t.mu}`,
    `Bk kk k I=${t.K}*pos(v(u),${t.su})*sqrt(pos(v(u),${t.su})+1e-15)`,
    "Vkk 0 kk 0",
    `Ba a 0 V=root(-v(k),${t.sg})`,
    `Bb w 0 V=${t.delta}*root(v(d)-v(k),${t.sp})`,
    `Bp d pp I=${t.K}*pos(v(u),${t.su})*sqrt(pos(v(u),${t.su})+1e-15)*v(w)/(v(a)+v(w)+1e-9)`,
    "Vpp pp 0 0",
    // choke and pi tank
    `Lr p 0 ${net.Lrfc} IC=${run.chokeA === 0 ? 0 : -run.chokeA}`,
    `C1 p 0 ${net.C1} IC=0`,
    ...(split
      ? [
          `Ra p q ${net.rL * (1 - far)}`,
          `La q t ${net.L * (1 - far)} IC=0`,
          `Rb t r ${net.rL * far}`,
          `Lb r o ${net.L * far} IC=0`,
        ]
      : [`Ra p q ${net.rL}`, `La q o ${net.L} IC=0`]),
    `C2 o 0 ${net.C2} IC=0`,
    ...(c.beyond ?? [
      `Rl o 0 ${1 / load.G}`,
      ...(load.B > 0 ? [`Cl o 0 ${load.B / omega} IC=0`] : []),
      ...(load.B < 0 ? [`Ll o 0 ${-1 / (load.B * omega)} IC=0`] : []),
    ]),
    // arc: ln g integrates the voltage's square against its maintaining value
    ...(c.arc === null
      ? []
      : [
          `Barc ${at} 0 I=v(${at})*exp(v(g))`,
          `Bg 0 g I=1e-6*(2*v(${at})*v(${at})/${c.arc.V * c.arc.V}-1)/${c.arc.tau ?? 1e-6}`,
          `Cg g 0 1e-6 IC=${Math.log(c.arc.g0)}`,
          `Bw pa 0 V=v(${at})*v(${at})*exp(v(g))`,
        ]),
    ".options reltol=1e-4 method=trap",
    `.save v(p) v(o) v(k) i(vpp) i(vkk)${c.arc === null ? "" : " v(pa)"}${c.beyond === undefined ? "" : " v(c) i(vcon)"}`,
    `.tran ${step} ${stop} ${keep} ${step} uic`,
    ".end",
    "",
  ].join("\n");
}

/** Mean of `values` over the last whole cycles ending `back` cycles before the end, times the kernel. */
function moment(
  time: readonly number[],
  values: readonly number[],
  toS: number,
  spanS: number,
  kernel: (s: number) => number,
): number {
  const fromS = toS - spanS;
  let sum = 0;
  for (let i = 1; i < time.length; i++) {
    const a = time[i - 1] as number;
    const b = time[i] as number;
    const lo = Math.max(a, fromS);
    const hi = Math.min(b, toS);
    if (!(hi > lo)) continue;
    const at = (s: number): number =>
      (values[i - 1] as number) +
      (((values[i] as number) - (values[i - 1] as number)) * (s - a)) / (b - a);
    sum += 0.5 * (hi - lo) * (at(lo) * kernel(lo) + at(hi) * kernel(hi));
  }
  return sum / spanS;
}

export function meanOf(
  time: readonly number[],
  values: readonly number[],
  toS: number,
  spanS: number,
): number {
  return moment(time, values, toS, spanS, () => 1);
}

/** Peak of the fundamental over a whole number of cycles. */
export function fundamentalOf(
  time: readonly number[],
  values: readonly number[],
  toS: number,
  spanS: number,
  f: number,
): number {
  const w = 2 * Math.PI * f;
  const re = moment(time, values, toS, spanS, (s) => Math.cos(w * s));
  const im = moment(time, values, toS, spanS, (s) => Math.sin(w * s));
  return 2 * Math.hypot(re, im);
}
