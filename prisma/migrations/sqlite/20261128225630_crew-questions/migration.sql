-- CreateTable
CREATE TABLE "CrewQuestion" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "sessionId" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "number" INTEGER NOT NULL,
    "fromS" REAL NOT NULL,
    "toS" REAL NOT NULL,
    "channels" TEXT NOT NULL,
    "question" TEXT NOT NULL,
    "answers" TEXT NOT NULL DEFAULT '[]',
    "author" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" DATETIME NOT NULL,
    "removedAt" DATETIME,
    CONSTRAINT "CrewQuestion_sessionId_fkey" FOREIGN KEY ("sessionId") REFERENCES "Session" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- CreateIndex
CREATE UNIQUE INDEX "CrewQuestion_sessionId_number_key" ON "CrewQuestion"("sessionId", "number");
