/** The list behind the button "Words": each term of the trade with its meaning in a sentence. Loaded when it is opened. */
const TERMS: readonly (readonly [term: string, meaning: string])[] = [
  ["Race", "the trip's progress beside each part's way to damage, on one logarithmic time axis"],
  [
    "Margin",
    "time to melt onset if nobody acted, over the clearing time: as a ratio and as a time",
  ],
  [
    "Early edge",
    "melt onset by the most unfavourable estimates of how an arc heats an edge; onset is a band, never one line",
  ],
  ["Melt onset", "the hottest spot of the plate edge reaches the melting point"],
  ["Operator alone", "the same fault with nobody but a person who notices after 2 to 3 s"],
  ["Shadow", "a monitor that is evaluated like the others and may not act"],
  ["Confirm", "the scans, or the time, a monitor waits after its pickup before it operates"],
  [
    "49, 59, 76 ...",
    "device numbers of IEEE C37.2: 27 undervoltage, 49 thermal, 59 overvoltage, 76 direct-current overcurrent",
  ],
  [
    "Thermal replica",
    "a running image of how warm a part is: it follows the watts with the part's own time constant",
  ],
  [
    "Inverse time",
    "the further over the pickup, the sooner it operates; curves of IEC 60255-151 and IEEE C37.112",
  ],
  ["Class 2.5", "a needle is within 2.5 % of the end of its scale"],
  ["VSWR", "voltage standing wave ratio: 1 is a perfect match"],
];

export default function TermList() {
  return (
    <dl className="terms">
      {TERMS.map(([term, meaning]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{meaning}</dd>
        </div>
      ))}
    </dl>
  );
}
