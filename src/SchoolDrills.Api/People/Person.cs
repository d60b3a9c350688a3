using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using SchoolDrills.Api.Schools;

namespace SchoolDrills.Api.People;

/// <summary>Someone who signs in. Addresses are unique over all schools, since sign-in does not ask for one.</summary>
internal sealed class Person : IdentityUser<Guid>
{
    public required Guid SchoolId { get; init; }

    public required string DisplayName { get; set; }

    public required string[] Roles { get; set; }

    public bool Active { get; set; } = true;

    private sealed class Configuration : IEntityTypeConfiguration<Person>
    {
        public void Configure(EntityTypeBuilder<Person> builder)
        {
            builder.ToTable("people");
            builder.HasOne<School>().WithMany().HasForeignKey(p => p.SchoolId).OnDelete(DeleteBehavior.Restrict);
            builder.HasIndex(p => p.NormalizedEmail).IsUnique();
            builder.HasIndex(p => p.NormalizedUserName).IsUnique();
            builder.Property(p => p.DisplayName).HasMaxLength(200);
            builder.Property(p => p.Email).HasMaxLength(256);
            builder.Property(p => p.NormalizedEmail).HasMaxLength(256);
            builder.Property(p => p.UserName).HasMaxLength(256);
            builder.Property(p => p.NormalizedUserName).HasMaxLength(256);
            builder.Property(p => p.ConcurrencyStamp).IsConcurrencyToken();
        }
    }
}
