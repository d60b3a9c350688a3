using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.People;

/// <summary>A signed-in client of the API. Ending it makes its tokens worthless at once.</summary>
internal sealed class Session
{
    public static readonly TimeSpan Life = TimeSpan.FromDays(14);

    public Guid Id { get; init; } = Guid.CreateVersion7();

    public required Guid SchoolId { get; init; }

    public required Guid PersonId { get; init; }

    public required DateTimeOffset StartedAtUtc { get; init; }

    public required DateTimeOffset ExpiresAtUtc { get; set; }

    public DateTimeOffset? EndedAtUtc { get; set; }

    public required DateTimeOffset LastSeenAtUtc { get; set; }

    /// <summary>When the password was last given: at sign-in, or since, where something asked for it again.</summary>
    public required DateTimeOffset PasswordAtUtc { get; set; }

    public string? Ip { get; init; }

    public string? UserAgent { get; init; }

    /// <summary>Accounts at other schools that the same address and password opened when this session was started.</summary>
    public IReadOnlyList<SchoolAccount> Others { get; init; } = [];

    /// <summary>Rises with each renewal; a refresh token older than the one before is a stolen one.</summary>
    public int Generation { get; set; }

    private sealed class Configuration : IEntityTypeConfiguration<Session>
    {
        public void Configure(EntityTypeBuilder<Session> builder)
        {
            builder.ToTable("sessions");
            builder.HasOne<Person>().WithMany().HasForeignKey(s => s.PersonId).OnDelete(DeleteBehavior.Cascade);
            builder.HasIndex(s => new { s.PersonId, s.StartedAtUtc });
            builder.Property(s => s.Generation).IsConcurrencyToken();
            builder.Property(s => s.Ip).HasMaxLength(45);
            builder.Property(s => s.UserAgent).HasMaxLength(200);
            builder.Property(s => s.Others).HasJson(AccountJson.Default.IReadOnlyListSchoolAccount);
        }
    }
}

/// <summary>An account at a school.</summary>
internal sealed record SchoolAccount(Guid SchoolId, Guid PersonId);

[JsonSerializable(typeof(IReadOnlyList<SchoolAccount>))]
internal sealed partial class AccountJson : JsonSerializerContext;
