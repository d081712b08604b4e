/** Kerf, a flame, watch. On a sign-in page it is the only orange. */
export function Wordmark() {
  return (
    <span className="wordmark">
      Kerf
      <i aria-hidden="true" />
      watch
    </span>
  )
}
