CREATE TABLE "deleted_builds" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"revision" integer NOT NULL,
	"key" text NOT NULL,
	"at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
ALTER TABLE "answers" DROP CONSTRAINT "answers_build_revision_revisions_build_revision_fk";
--> statement-breakpoint
ALTER TABLE "measurements" DROP CONSTRAINT "measurements_build_builds_id_fk";
--> statement-breakpoint
ALTER TABLE "revisions" DROP CONSTRAINT "revisions_build_builds_id_fk";
--> statement-breakpoint
ALTER TABLE "answers" ADD CONSTRAINT "answers_build_revision_revisions_build_revision_fk" FOREIGN KEY ("build","revision") REFERENCES "public"."revisions"("build","revision") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "measurements" ADD CONSTRAINT "measurements_build_builds_id_fk" FOREIGN KEY ("build") REFERENCES "public"."builds"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "revisions" ADD CONSTRAINT "revisions_build_builds_id_fk" FOREIGN KEY ("build") REFERENCES "public"."builds"("id") ON DELETE cascade ON UPDATE no action;