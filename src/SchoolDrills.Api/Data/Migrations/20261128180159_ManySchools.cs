using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class ManySchools : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<long>(
                name: "most_stored_bytes",
                table: "schools",
                type: "bigint",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "most_uploads_an_hour",
                table: "schools",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "scoring_served_at_utc",
                table: "schools",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "stored_bytes",
                table: "schools",
                type: "bigint",
                nullable: false,
                defaultValue: 0L);

            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "suspended_at_utc",
                table: "schools",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "queued_at_utc",
                table: "attempts",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "scoring_claims",
                columns: table => new
                {
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    holder = table.Column<Guid>(type: "uuid", nullable: true),
                    tries = table.Column<int>(type: "integer", nullable: false),
                    until_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_scoring_claims", x => x.attempt_id);
                    table.ForeignKey(
                        name: "fk_scoring_claims_attempts_attempt_id",
                        column: x => x.attempt_id,
                        principalTable: "attempts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "scoring_claims");

            migrationBuilder.DropColumn(
                name: "most_stored_bytes",
                table: "schools");

            migrationBuilder.DropColumn(
                name: "most_uploads_an_hour",
                table: "schools");

            migrationBuilder.DropColumn(
                name: "scoring_served_at_utc",
                table: "schools");

            migrationBuilder.DropColumn(
                name: "stored_bytes",
                table: "schools");

            migrationBuilder.DropColumn(
                name: "suspended_at_utc",
                table: "schools");

            migrationBuilder.DropColumn(
                name: "queued_at_utc",
                table: "attempts");
        }
    }
}
