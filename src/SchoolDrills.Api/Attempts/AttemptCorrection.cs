using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Attempts;

/// <summary>What an instructor set by hand over the engine's findings, or that it was taken back. Each is kept; the newest holds.</summary>
internal sealed class AttemptCorrection
{
    public required Guid AttemptId { get; init; }

    /// <summary>The attempt's revision that this made.</summary>
    public required int Revision { get; init; }

    public required Guid SchoolId { get; init; }

    public required Guid PersonId { get; init; }

    public Person Person { get; private init; } = null!;

    public required DateTimeOffset AtUtc { get; init; }

    public string? Reason { get; init; }

    /// <summary>Back to the engine's own.</summary>
    public required bool Undone { get; init; }

    public required ManualCorrections ByHand { get; init; }

    /// <summary>Altimeter setting instead of the one entered with the upload, hPa.</summary>
    public double? QnhHpa { get; init; }

    /// <summary>Wind instead of the one entered with the upload, from, degrees true.</summary>
    public double? WindFromDegTrue { get; init; }

    public double? WindKt { get; init; }

    private sealed class Configuration : IEntityTypeConfiguration<AttemptCorrection>
    {
        public void Configure(EntityTypeBuilder<AttemptCorrection> builder)
        {
            builder.ToTable("attempt_corrections");
            builder.HasKey(c => new { c.AttemptId, c.Revision });
            builder.HasOne<Attempt>().WithMany(a => a.Corrections).HasForeignKey(c => c.AttemptId).OnDelete(DeleteBehavior.Cascade);
            builder.HasOne(c => c.Person).WithMany().HasForeignKey(c => c.PersonId).OnDelete(DeleteBehavior.Restrict);
            builder.Property(c => c.Reason).HasMaxLength(2000);
            builder.Property(c => c.ByHand).HasJson(WireJson.Default.ManualCorrections);
        }
    }
}
