// Connection addresses of the two roles. Node's own modules only.
import { createHmac } from 'node:crypto'

export const RUNTIME_ROLE = 'kerfwatch_runtime'
const RUNTIME_KEY_WITHOUT_PASSWORD = 'kerfwatch'

/** Every connection speaks UTC: adapter-pg drops a timestamp's offset. */
export const SESSION_OPTIONS = '-c timezone=UTC'

/**
 * The runtime role's password, derived from the owner's so that every process that may
 * migrate can also tell its web process how to connect, with nothing more to store.
 */
export function runtimePassword(ownerUrl) {
  const ownerPassword = decodeURIComponent(new URL(ownerUrl).password)
  return createHmac('sha256', ownerPassword || RUNTIME_KEY_WITHOUT_PASSWORD)
    .update('kerfwatch runtime role')
    .digest('base64url')
}

/** The same database, as the role that owns nothing. */
export function runtimeUrl(ownerUrl) {
  const url = new URL(ownerUrl)
  url.username = RUNTIME_ROLE
  url.password = runtimePassword(ownerUrl)
  return url.href
}

/** The same server and role, another database. */
export function databaseUrl(serverUrl, name) {
  const url = new URL(serverUrl)
  url.pathname = `/${encodeURIComponent(name)}`
  return url.href
}

export const databaseName = (url) => decodeURIComponent(new URL(url).pathname.slice(1))

/** For messages: an address without its password. */
export function shownUrl(url) {
  const { hostname, port } = new URL(url)
  return `${hostname}:${port || 5432}/${databaseName(url)}`
}
