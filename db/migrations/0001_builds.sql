CREATE TABLE "answers" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"build" text collate "C" NOT NULL,
	"revision" integer NOT NULL,
	"depends" text NOT NULL,
	"verdict" text NOT NULL,
	"versions" jsonb NOT NULL,
	"entries" jsonb NOT NULL,
	"answer" text NOT NULL,
	"key" text NOT NULL,
	"at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "builds" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"revision" integer NOT NULL,
	"name" text NOT NULL,
	"vehicle" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "measurements" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"build" text collate "C" NOT NULL,
	"quantity" text NOT NULL,
	"of" text,
	"value" text NOT NULL,
	"date" text NOT NULL,
	"tool" text NOT NULL,
	"suspension" text,
	"steering" text,
	"by" text,
	"note" text,
	"key" text NOT NULL,
	"at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "replies" (
	"caller" text NOT NULL,
	"key" text NOT NULL,
	"request" text NOT NULL,
	"status" integer,
	"headers" jsonb,
	"body" text,
	"at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "replies_caller_key_pk" PRIMARY KEY("caller","key")
);
--> statement-breakpoint
CREATE TABLE "revisions" (
	"build" text collate "C" NOT NULL,
	"revision" integer NOT NULL,
	"what" text NOT NULL,
	"name" text NOT NULL,
	"document" json NOT NULL,
	"measurements" jsonb NOT NULL,
	"restored_from" integer,
	"note" text,
	"by" text,
	"key" text NOT NULL,
	"at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "revisions_build_revision_pk" PRIMARY KEY("build","revision")
);
--> statement-breakpoint
DROP INDEX "catalogue_current";--> statement-breakpoint
DROP INDEX "catalogue_words";--> statement-breakpoint
ALTER TABLE "catalogue" ALTER COLUMN "id" SET DATA TYPE text collate "C";--> statement-breakpoint
ALTER TABLE "answers" ADD CONSTRAINT "answers_build_revision_revisions_build_revision_fk" FOREIGN KEY ("build","revision") REFERENCES "public"."revisions"("build","revision") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "measurements" ADD CONSTRAINT "measurements_build_builds_id_fk" FOREIGN KEY ("build") REFERENCES "public"."builds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "revisions" ADD CONSTRAINT "revisions_build_builds_id_fk" FOREIGN KEY ("build") REFERENCES "public"."builds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "answers_depends" ON "answers" USING btree ("build","revision","depends");--> statement-breakpoint
CREATE INDEX "builds_vehicle" ON "builds" USING btree ("vehicle","id");--> statement-breakpoint
CREATE INDEX "builds_name" ON "builds" USING gin ("name" gin_trgm_ops);--> statement-breakpoint
CREATE INDEX "measurements_build" ON "measurements" USING btree ("build");--> statement-breakpoint
CREATE INDEX "replies_at" ON "replies" USING btree ("at");--> statement-breakpoint
CREATE UNIQUE INDEX "catalogue_current" ON "catalogue" USING btree ("noun","id") WHERE "catalogue"."current";--> statement-breakpoint
CREATE INDEX "catalogue_words" ON "catalogue" USING gin ("words" gin_trgm_ops) WHERE "catalogue"."current";