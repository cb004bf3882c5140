/** What everyone must know before laying a hand on the real thing. */
export function Cautions() {
  return (
    <p className="cautions">
      <b>Caution.</b> The high voltage in such an amplifier kills, RF burns, and capacitors stay
      charged after switch-off. Never try a short or an arc by hand. Quietarc is for teaching and
      design study and certifies nothing; local codes, licence conditions and qualified people
      decide what is done to real equipment.
    </p>
  );
}
