import { buildWatchPermit } from '../../seed/builders/permits'
import { expect, test } from './fixtures'
import { afterTorchOut, buildMorning } from './moved-clock'
import { walkRound } from './story-watch'
import { visit } from './visit'

test.use({ viewport: { width: 360, height: 780 } })

// Rounds fall due each ten minutes from torch out here. One late by less than that adds what nobody saw; one later
// starts the watch over: common practice, no source; the minutes are the company layer's.
test('a round walked late adds its gap, and one that is missed starts the watch over', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  test.setTimeout(180_000)
  const { permit, team } = await buildWatchPermit(app.owner, {
    worksite: await buildMorning(app),
    watchMin: 60,
  })
  const counted = async () => {
    const { rows } = await app.owner.query<{ restarts: number; credit_min: number }>(
      'SELECT w.restarts, w.credit_ms::float / 60000 AS credit_min FROM kerf_watch_progress($1) AS w',
      [permit.id],
    )
    return rows[0]
  }
  await signInAs(team.fireWatch.email)
  try {
    await test.step('late: it says by how much, and what that adds', async () => {
      await afterTorchOut(app, permit.id, 12.2)
      await visit(page, `/permits/${permit.id}/watch`)
      await expect(page.getByText(/^[34]\smin late\. Walk it now\.$/)).toBeVisible()
      await expect(page.getByRole('status').filter({ hasText: 'Round 1 is due now.' })).toHaveCount(
        1,
      )
      await walkRound(page, permit.id, 1)
      await expect(page.getByText(/^2 clear, .*: [34]\smin late$/)).toBeVisible()
      await expect(page.getByText(/^60 \+ [234] min$/)).toBeVisible()
      await expect(page.getByText(/^[234] min added: gap /)).toBeVisible()
      expect(await counted()).toMatchObject({ restarts: 0 })
      await expectAccessible()
    })

    await test.step('missed by a whole interval: nothing so far counts', async () => {
      await afterTorchOut(app, permit.id, 30.5)
      await visit(page, `/permits/${permit.id}/watch`)
      await expect(page.getByText('The next round starts the watch over')).toBeVisible()
      expect((await counted())?.credit_min).toBe(0)
      await walkRound(page, permit.id, 2)
      await expect(page.getByText('Started over', { exact: true })).toBeVisible()
      await expect(page.getByText(/^(1\sh\s00|5[89]\smin) min left\. Until /)).toBeVisible()
      expect(await counted()).toMatchObject({ restarts: 1 })
    })

    await test.step('an hour from torch out is not an hour watched', async () => {
      await afterTorchOut(app, permit.id, 62)
      await visit(page, `/permits/${permit.id}/close`)
      await expect(page.getByText(/^Still owed: /)).toBeVisible()
    })
  } finally {
    await app.setClock(0)
  }
})
