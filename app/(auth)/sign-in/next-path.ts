/** Where to go after signing in: a path of our own, never another host. */
export function nextPath(wanted: string | string[] | undefined): string {
  if (typeof wanted !== 'string' || !/^\/[^/\\]/.test(wanted)) return '/'
  return wanted.startsWith('/sign-') ? '/' : wanted
}
