interface PolicyInput {
  nonce: string
  isDevelopment: boolean
  isHttps: boolean
}

/**
 * What a page may load: only our own files, and only scripts that carry this request's nonce.
 * The bar code reader is WebAssembly, which has a word of its own and lets no script be made of text.
 * Recharts writes style attributes, so those are let through; style elements are not. Development
 * tools need eval, inline style elements and a socket.
 */
export function contentSecurityPolicy({ nonce, isDevelopment, isHttps }: PolicyInput): string {
  const directives = [
    `default-src 'self'`,
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic' 'wasm-unsafe-eval'${isDevelopment ? " 'unsafe-eval'" : ''}`,
    isDevelopment ? `style-src 'self' 'unsafe-inline'` : `style-src 'self' 'nonce-${nonce}'`,
    `style-src-attr 'unsafe-inline'`,
    `img-src 'self' blob: data:`,
    `font-src 'self'`,
    `connect-src 'self'${isDevelopment ? ' ws: wss:' : ''}`,
    `worker-src 'self'`,
    `manifest-src 'self'`,
    `object-src 'none'`,
    `base-uri 'self'`,
    `form-action 'self'`,
    `frame-src 'none'`,
    `frame-ancestors 'none'`,
    ...(isHttps ? ['upgrade-insecure-requests'] : []),
  ]
  return directives.join('; ')
}

interface AddressInput {
  /** What the connection itself says; null where the server does not tell. */
  socketAddress: string | null
  forwardedFor: string | null
  trustedProxies: number
}

/**
 * The network address of the client. A forwarded address counts only as far as our own proxies
 * wrote it: anyone can send the header.
 */
export function clientAddress({
  socketAddress,
  forwardedFor,
  trustedProxies,
}: AddressInput): string {
  const direct = socketAddress ?? 'unknown'
  if (trustedProxies === 0) return direct
  const listed = (forwardedFor ?? '')
    .split(',')
    .map((part) => part.trim())
    .filter(Boolean)
  return listed.at(-trustedProxies) ?? direct
}
