using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class WorkThatWaits : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "unread_since_utc",
                table: "attempts",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "flown",
                table: "assignments",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<string>(
                name: "verdict",
                table: "score_reports",
                type: "character varying(40)",
                maxLength: 40,
                nullable: true,
                computedColumnSql: "report -> 'overall' ->> 'verdict'",
                stored: true);

            migrationBuilder.CreateIndex(
                name: "ix_attempts_unread",
                table: "attempts",
                columns: new[] { "school_id", "unread_since_utc" },
                filter: "unread_since_utc is not null");

            migrationBuilder.CreateIndex(
                name: "ix_attempts_unscorable",
                table: "attempts",
                columns: new[] { "school_id", "uploaded_at_utc" },
                filter: "status = 'unscorable'");

            migrationBuilder.CreateIndex(
                name: "ix_assignments_to_fly",
                table: "assignments",
                columns: new[] { "school_id", "due_on", "student_id" },
                filter: "cancelled_at_utc is null and not flown");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_attempts_unread",
                table: "attempts");

            migrationBuilder.DropIndex(
                name: "ix_attempts_unscorable",
                table: "attempts");

            migrationBuilder.DropIndex(
                name: "ix_assignments_to_fly",
                table: "assignments");

            migrationBuilder.DropColumn(
                name: "verdict",
                table: "score_reports");

            migrationBuilder.DropColumn(
                name: "unread_since_utc",
                table: "attempts");

            migrationBuilder.DropColumn(
                name: "flown",
                table: "assignments");
        }
    }
}
