import createNextIntlPlugin from 'next-intl/plugin'

// On every answer, files and uploads included. What differs from request to request (the
// content security policy and its nonce) is proxy.ts's.
const SECURITY_HEADERS = [
  { key: 'X-Content-Type-Options', value: 'nosniff' },
  { key: 'X-Frame-Options', value: 'DENY' },
  { key: 'Referrer-Policy', value: 'strict-origin-when-cross-origin' },
  { key: 'Cross-Origin-Opener-Policy', value: 'same-origin' },
  { key: 'Cross-Origin-Resource-Policy', value: 'same-origin' },
  {
    key: 'Permissions-Policy',
    value: 'camera=(self), geolocation=(), microphone=(), payment=(), usb=(), browsing-topics=()',
  },
]

/** @type {import('next').NextConfig} */
const nextConfig = {
  poweredByHeader: false,
  // Titles stand in the head before the page does, on the first answer and on every later one.
  htmlLimitedBots: /.*/,
  reactStrictMode: true,
  serverExternalPackages: ['@node-rs/argon2', '@prisma/adapter-pg', 'pdfkit', 'pg', 'pino'],
  headers: async () => [{ source: '/:path*', headers: SECURITY_HEADERS }],
}

export default createNextIntlPlugin('./lib/i18n/request.ts')(nextConfig)
