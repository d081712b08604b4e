/** Whether this process answers; it looks at nothing else. */
export function GET() {
  return Response.json(
    { ok: true, uptimeS: Math.round(process.uptime()) },
    { headers: { 'cache-control': 'no-store' } },
  )
}

export const dynamic = 'force-dynamic'
