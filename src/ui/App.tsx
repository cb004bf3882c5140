/** The whole page: for now its name and its question. */
export function App() {
  return (
    <main>
      <h1>Quietarc</h1>
      <p>Does the protection act before the metal melts?</p>
    </main>
  );
}
