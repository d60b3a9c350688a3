using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class Tallies : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_grades_instructor_id",
                table: "grades");

            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "graded_at_utc",
                table: "attempts",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "has_air_data",
                table: "attempts",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.CreateTable(
                name: "day_tallies",
                columns: table => new
                {
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    dimension = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    day = table.Column<DateOnly>(type: "date", nullable: false),
                    key = table.Column<string>(type: "character varying(120)", maxLength: 120, nullable: false),
                    attempts = table.Column<int>(type: "integer", nullable: false),
                    items = table.Column<int>(type: "integer", nullable: false),
                    not_met = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_day_tallies", x => new { x.school_id, x.dimension, x.day, x.key });
                });

            migrationBuilder.CreateTable(
                name: "student_tallies",
                columns: table => new
                {
                    student_id = table.Column<Guid>(type: "uuid", nullable: false),
                    dimension = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    key = table.Column<string>(type: "character varying(120)", maxLength: 120, nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    attempts = table.Column<int>(type: "integer", nullable: false),
                    not_met = table.Column<int>(type: "integer", nullable: false),
                    last_flown_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_student_tallies", x => new { x.student_id, x.dimension, x.key });
                });

            migrationBuilder.CreateIndex(
                name: "ix_grades_instructor_id_signed_at_utc",
                table: "grades",
                columns: new[] { "instructor_id", "signed_at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_attempts_student_id_drill_version_id_flown_at_utc",
                table: "attempts",
                columns: new[] { "student_id", "drill_version_id", "flown_at_utc" },
                filter: "verdict is not null");

            migrationBuilder.CreateIndex(
                name: "ix_attempts_ungraded",
                table: "attempts",
                columns: new[] { "school_id", "flown_at_utc" },
                filter: "verdict is not null and graded_at_utc is null");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "day_tallies");

            migrationBuilder.DropTable(
                name: "student_tallies");

            migrationBuilder.DropIndex(
                name: "ix_grades_instructor_id_signed_at_utc",
                table: "grades");

            migrationBuilder.DropIndex(
                name: "ix_attempts_student_id_drill_version_id_flown_at_utc",
                table: "attempts");

            migrationBuilder.DropIndex(
                name: "ix_attempts_ungraded",
                table: "attempts");

            migrationBuilder.DropColumn(
                name: "graded_at_utc",
                table: "attempts");

            migrationBuilder.DropColumn(
                name: "has_air_data",
                table: "attempts");

            migrationBuilder.CreateIndex(
                name: "ix_grades_instructor_id",
                table: "grades",
                column: "instructor_id");
        }
    }
}
