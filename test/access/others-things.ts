import { buildOrder } from '../../seed/builders/orders'
import { assignmentOf, extinguisherOf, memberOf, partOf, visitorOf } from './table'
import type { Scene } from './world'

const crewOf = (other: Scene) =>
  other.read<string>('SELECT id FROM crews WHERE site_id = $1 LIMIT 1', [other.site.id])
const orderOf = async ({ owner, site, team }: Scene) =>
  (await buildOrder(owner, { siteId: site.id, managerId: team.foreman.id })).id
const removing = (other: Scene) =>
  JSON.stringify({
    units: 'us',
    rows: [],
    removed: [{ cutId: other.job.cuts[0]?.id ?? '', version: 0 }],
  })

/** A field of a valid form, and what somebody of another site would have there. */
type OthersThing = readonly [
  action: string,
  field: string,
  value: (other: Scene) => Promise<string> | string,
]

export const OTHERS_THINGS: readonly OthersThing[] = [
  ['createJobAction', 'crewId', crewOf],
  ['updateJobAction', 'crewId', crewOf],
  ['saveCutAction', 'cutId', (other) => other.job.cuts[0]?.id ?? ''],
  ['saveSheetAction', 'changes', removing],
  ['receiveDeliveryAction', 'orderId', orderOf],
  ['receiveDeliveryAction', 'serial', (other) => other.spare.serial],
  ['swapCylinderAction', 'outfitId', (other) => other.outfit.id],
  ['swapCylinderAction', 'onSerial', (other) => other.spare.serial],
  ['swapCylinderAction', 'offCylinderId', (other) => other.outfit.oxygen.id],
  ['preparePermitAction', 'areaId', (other) => other.site.area.id],
  ['preparePermitAction', 'cutListId', (other) => other.job.cutListId],
  ['preparePermitAction', 'outfitId', (other) => other.outfit.id],
  ['preparePermitAction', 'operatorId', (other) => other.team.operator.id],
  ['preparePermitAction', 'fireWatchId', (other) => other.team.fireWatch.id],
  ['signPermitAction', 'personId', (other) => other.team.operator.id],
  ['issuePermitAction', 'personId', (other) => other.team.pai.id],
  ['handOverAction', 'personId', (other) => other.team.fireWatch.id],
  ['withdrawStopAction', 'personId', (other) => other.team.foreman.id],
  ['resumePermitAction', 'personId', (other) => other.team.pai.id],
  ['reopenPermitAction', 'personId', (other) => other.team.pai.id],
  ['logWorkAction', 'cutId', (other) => other.job.cuts[0]?.id ?? ''],
  ['logWorkAction', 'operatorId', (other) => other.team.operator.id],
  ['leaveWatchAction', 'personId', (other) => other.team.fireWatch.id],
  ['signOffWatchAction', 'personId', (other) => other.team.fireWatch.id],
  ['closePermitAction', 'personId', (other) => other.team.pai.id],
  ['recordWorkOutsideAction', 'areaId', (other) => other.site.area.id],
  ['recordWorkOutsideAction', 'operatorId', (other) => other.team.operator.id],
  ['recordIncidentAction', 'areaId', (other) => other.site.area.id],
  ['recordIncidentAction', 'outfitId', (other) => other.outfit.id],
  ['grantRoleAction', 'personId', (other) => other.team.operator.id],
  ['grantRoleAction', 'siteId', (other) => other.site.id],
  ['setDisabledAction', 'personId', (other) => other.team.operator.id],
  ['addQualificationAction', 'personId', (other) => other.team.operator.id],
  ['saveOutfitAction', 'siteId', (other) => other.site.id],
  ['saveOutfitAction', 'holderId', (other) => other.team.operator.id],
  ['saveOutfitAction', 'outfitId', (other) => other.outfit.id],
  ['addPartAction', 'outfitId', (other) => other.outfit.id],
  ['removePartAction', 'partId', partOf],
  ['recordCheckAction', 'outfitId', (other) => other.outfit.id],
  ['holdTestAction', 'outfitId', (other) => other.outfit.id],
  ['serviceAction', 'outfitId', (other) => other.outfit.id],
  ['addExtinguisherAction', 'siteId', (other) => other.site.id],
  ['checkExtinguisherAction', 'extinguisherId', extinguisherOf],
  ['removeExtinguisherAction', 'extinguisherId', extinguisherOf],
  ['assignPeopleAction', 'siteId', (other) => other.site.id],
  ['assignPeopleAction', 'who', (other) => `person ${other.team.operator.id}`],
  ['cancelAssignmentAction', 'assignmentId', assignmentOf],
  ['receiveVisitorAction', 'hostId', (other) => other.team.foreman.id],
  ['visitorLeftAction', 'visitorId', visitorOf],
  ['addCrewAction', 'siteId', (other) => other.site.id],
  ['changeCrewAction', 'crewId', crewOf],
  ['changeCrewAction', 'siteId', (other) => other.site.id],
  ['addCrewMemberAction', 'crewId', crewOf],
  ['addCrewMemberAction', 'personId', (other) => other.team.operator.id],
  ['endCrewMemberAction', 'memberId', memberOf],
  ['addSiteAction', 'likeSiteId', (other) => other.site.id],
  ['changeSiteAction', 'siteId', (other) => other.site.id],
  ['saveAreaAction', 'siteId', (other) => other.site.id],
  ['saveAreaAction', 'areaId', (other) => other.site.area.id],
  ['saveAreaAction', 'seenWithId', (other) => other.site.area.id],
  ['addPersonAction', 'siteId', (other) => other.site.id],
  ['changePersonAction', 'personId', (other) => other.team.operator.id],
  ['giveOncePasswordAction', 'personId', (other) => other.team.operator.id],
]
