using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class DraftRevisions : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "instructors_draft",
                table: "schools",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<int>(
                name: "based_on_version",
                table: "drill_versions",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "revision",
                table: "drill_versions",
                type: "integer",
                nullable: false,
                defaultValue: 1);

            migrationBuilder.AddColumn<Guid>(
                name: "saved_by_id",
                table: "drill_versions",
                type: "uuid",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "drill_draft_revisions",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    slug = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    based_on_version = table.Column<int>(type: "integer", nullable: false),
                    template = table.Column<string>(type: "jsonb", nullable: false),
                    saved_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    saved_by_id = table.Column<Guid>(type: "uuid", nullable: true),
                    replaced_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    replaced_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    discarded = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_drill_draft_revisions", x => x.id);
                    table.ForeignKey(
                        name: "fk_drill_draft_revisions_people_replaced_by_id",
                        column: x => x.replaced_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_drill_draft_revisions_people_saved_by_id",
                        column: x => x.saved_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_drill_versions_saved_by_id",
                table: "drill_versions",
                column: "saved_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_drill_draft_revisions_replaced_by_id",
                table: "drill_draft_revisions",
                column: "replaced_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_drill_draft_revisions_saved_by_id",
                table: "drill_draft_revisions",
                column: "saved_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_drill_draft_revisions_school_id_slug_revision",
                table: "drill_draft_revisions",
                columns: new[] { "school_id", "slug", "revision" },
                unique: true);

            migrationBuilder.AddForeignKey(
                name: "fk_drill_versions_people_saved_by_id",
                table: "drill_versions",
                column: "saved_by_id",
                principalTable: "people",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "fk_drill_versions_people_saved_by_id",
                table: "drill_versions");

            migrationBuilder.DropTable(
                name: "drill_draft_revisions");

            migrationBuilder.DropIndex(
                name: "ix_drill_versions_saved_by_id",
                table: "drill_versions");

            migrationBuilder.DropColumn(
                name: "instructors_draft",
                table: "schools");

            migrationBuilder.DropColumn(
                name: "based_on_version",
                table: "drill_versions");

            migrationBuilder.DropColumn(
                name: "revision",
                table: "drill_versions");

            migrationBuilder.DropColumn(
                name: "saved_by_id",
                table: "drill_versions");
        }
    }
}
