-- Versions that were numbered by their title alone keep their numbers, as one entry for each title.
ALTER TABLE "PlanVersion" ADD COLUMN "entryId" TEXT NOT NULL DEFAULT '';
UPDATE "PlanVersion" SET "entryId" = (
  SELECT "first"."id" FROM "PlanVersion" AS "first"
  WHERE "first"."teamId" = "PlanVersion"."teamId" AND "first"."title" = "PlanVersion"."title"
  ORDER BY "first"."number" LIMIT 1
);
DROP INDEX "PlanVersion_teamId_title_number_key";
CREATE UNIQUE INDEX "PlanVersion_entryId_number_key" ON "PlanVersion"("entryId", "number");
ALTER TABLE "RuleSetVersion" ADD COLUMN "entryId" TEXT NOT NULL DEFAULT '';
UPDATE "RuleSetVersion" SET "entryId" = (
  SELECT "first"."id" FROM "RuleSetVersion" AS "first"
  WHERE "first"."teamId" = "RuleSetVersion"."teamId" AND "first"."title" = "RuleSetVersion"."title"
  ORDER BY "first"."number" LIMIT 1
);
DROP INDEX "RuleSetVersion_teamId_title_number_key";
CREATE UNIQUE INDEX "RuleSetVersion_entryId_number_key" ON "RuleSetVersion"("entryId", "number");
