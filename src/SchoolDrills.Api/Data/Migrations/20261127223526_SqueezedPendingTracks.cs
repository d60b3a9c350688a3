using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class SqueezedPendingTracks : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "squeezed",
                table: "pending_tracks",
                type: "boolean",
                nullable: false,
                defaultValue: false);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "squeezed",
                table: "pending_tracks");
        }
    }
}
