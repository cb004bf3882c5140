/** What the build makes of files that are not code. */
declare module "*.md?notes" {
  /** The notes as HTML. */
  const html: string;
  export default html;
}
