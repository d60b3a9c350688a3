using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Threading.Channels;
using Microsoft.AspNetCore.Hosting;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>Links by mail, through a mail server that only listens.</summary>
public sealed class MailTests(MailTests.MailingSchool app) : IClassFixture<MailTests.MailingSchool>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_forgotten_password_is_replaced_by_a_link_that_came_by_mail_and_led_to_the_configured_site()
    {
        using var http = app.CreateClient();
        // Whoever asks says that the site is elsewhere; the link does not believe it.
        http.DefaultRequestHeaders.Host = "evil.example";
        var stranger = new SchoolDrillsClient(http);
        var email = SchoolsFixture.EmailOf(SchoolsFixture.OtherStudent);
        await stranger.ForgotPasswordAsync(new ForgotPassword("nobody@tussockplains.example"), Cancel);
        await stranger.ForgotPasswordAsync(new ForgotPassword(email), Cancel);
        // Asked again at once: one mail is on its way already.
        await stranger.ForgotPasswordAsync(new ForgotPassword(email), Cancel);
        var invited = await (await app.AsAsync(SchoolsFixture.Chief)).InviteAsync(
            new InvitePerson("Mailed", "mailed@tussockplains.example", [Roles.Student]),
            Cancel
        );
        Assert.True(invited.Mailed);

        var mail = await app.Mails.Reader.ReadAsync(Cancel);
        Assert.Contains($"To: {email}", mail, StringComparison.Ordinal);
        Assert.Contains("https://drills.example/welcome?token=", mail, StringComparison.Ordinal);
        Assert.DoesNotContain("evil", mail, StringComparison.Ordinal);
        // The next mail is the invitation: neither nobody nor the second asking made one.
        Assert.Contains("To: mailed@tussockplains.example", await app.Mails.Reader.ReadAsync(Cancel), StringComparison.Ordinal);

        var token = mail.Split("token=")[1].Split('\r', '\n')[0];
        await stranger.AcceptLinkAsync(new AcceptLink(token, "remembered this time"), Cancel);
        await stranger.SignInAsync(new SignIn(email, "remembered this time"), Cancel);
    }

    public sealed class MailingSchool : SchoolsFixture
    {
        private readonly TcpListener listener = new(IPAddress.Loopback, 0);

        public Channel<string> Mails { get; } = Channel.CreateUnbounded<string>();

        public override async ValueTask DisposeAsync()
        {
            await base.DisposeAsync();
            listener.Stop();
        }

        protected override void ConfigureWebHost(IWebHostBuilder builder)
        {
            base.ConfigureWebHost(builder);
            listener.Start();
            _ = ListenAsync();
            builder.UseSetting("SCHOOLDRILLS_SMTP", $"smtp://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}");
            builder.UseSetting("SCHOOLDRILLS_MAIL_FROM", "drills@tussockplains.example");
            builder.UseSetting("SCHOOLDRILLS_PUBLIC_URL", "https://drills.example/");
        }

        /// <summary>As much of RFC 5321 as it takes to be handed a mail.</summary>
        private async Task ListenAsync()
        {
            try
            {
                while (true)
                {
                    using var client = await listener.AcceptTcpClientAsync();
                    using var reader = new StreamReader(client.GetStream(), Encoding.UTF8);
                    await using var writer = new StreamWriter(client.GetStream(), new UTF8Encoding(false))
                    {
                        NewLine = "\r\n",
                        AutoFlush = true,
                    };
                    await writer.WriteLineAsync("220 mail.example");
                    while (await reader.ReadLineAsync() is { } line && line != "QUIT")
                    {
                        await writer.WriteLineAsync(line == "DATA" ? "354 go on" : "250 ok");
                        if (line == "DATA")
                        {
                            var mail = new StringBuilder();
                            while (await reader.ReadLineAsync() is { } text && text != ".")
                                mail.AppendLine(text);
                            await Mails.Writer.WriteAsync(mail.ToString());
                            await writer.WriteLineAsync("250 kept");
                        }
                    }

                    await writer.WriteLineAsync("221 bye");
                }
            }
            catch (Exception e) when (e is SocketException or IOException or ObjectDisposedException)
            {
                // The test is over.
            }
        }
    }
}
