using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class EditionsAndVersions : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_aircraft_profiles_school_id_slug",
                table: "aircraft_profiles");

            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "retired_at_utc",
                table: "tolerance_standards",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "supersedes",
                table: "tolerance_standards",
                type: "character varying(100)",
                maxLength: 100,
                nullable: true);

            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "retired_at_utc",
                table: "aircraft_profiles",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "saved_at_utc",
                table: "aircraft_profiles",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "saved_by_id",
                table: "aircraft_profiles",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "version",
                table: "aircraft_profiles",
                type: "integer",
                nullable: false,
                defaultValue: 1);

            migrationBuilder.CreateIndex(
                name: "ix_tolerance_standards_school_id_supersedes",
                table: "tolerance_standards",
                columns: new[] { "school_id", "supersedes" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_aircraft_profiles_saved_by_id",
                table: "aircraft_profiles",
                column: "saved_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_aircraft_profiles_school_id_slug_version",
                table: "aircraft_profiles",
                columns: new[] { "school_id", "slug", "version" },
                unique: true);

            migrationBuilder.AddForeignKey(
                name: "fk_aircraft_profiles_people_saved_by_id",
                table: "aircraft_profiles",
                column: "saved_by_id",
                principalTable: "people",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "fk_aircraft_profiles_people_saved_by_id",
                table: "aircraft_profiles");

            migrationBuilder.DropIndex(
                name: "ix_tolerance_standards_school_id_supersedes",
                table: "tolerance_standards");

            migrationBuilder.DropIndex(
                name: "ix_aircraft_profiles_saved_by_id",
                table: "aircraft_profiles");

            migrationBuilder.DropIndex(
                name: "ix_aircraft_profiles_school_id_slug_version",
                table: "aircraft_profiles");

            migrationBuilder.DropColumn(
                name: "retired_at_utc",
                table: "tolerance_standards");

            migrationBuilder.DropColumn(
                name: "supersedes",
                table: "tolerance_standards");

            migrationBuilder.DropColumn(
                name: "retired_at_utc",
                table: "aircraft_profiles");

            migrationBuilder.DropColumn(
                name: "saved_at_utc",
                table: "aircraft_profiles");

            migrationBuilder.DropColumn(
                name: "saved_by_id",
                table: "aircraft_profiles");

            migrationBuilder.DropColumn(
                name: "version",
                table: "aircraft_profiles");

            migrationBuilder.CreateIndex(
                name: "ix_aircraft_profiles_school_id_slug",
                table: "aircraft_profiles",
                columns: new[] { "school_id", "slug" },
                unique: true);
        }
    }
}
