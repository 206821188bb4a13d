using System.Security.Cryptography.X509Certificates;
using Acquire.Web.Security.Certificates;

namespace Acquire.Commands.Service;

/// <summary><c>acquire serve cert</c>: a certificate that this computer signs itself.</summary>
internal static class CertCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var name = Given.Option<string[]>(
            "--name", "NAME", "A further name or address by which this computer is reached; may be given several times.");
        var command =
            new Command("cert", "Make the certificate with which the service listens beyond this computer.") { name, OutFile.Force };
        command.SetAction(parsed =>
        {
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var names = OwnCertificate.NamesOfThisComputer(parsed.GetValue(name) ?? []);
            using var made = OwnCertificate.Make(folder, names, parsed.GetValue(OutFile.Force), surroundings.Time);
            Write(surroundings.Out, made, folder, names);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, X509Certificate2 made, string folder, ImmutableArray<string> names)
    {
        console.Line($"Certificate: {OwnCertificate.FileIn(folder)}");
        console.Line($"Stands for:  {string.Join(", ", names)}");
        console.Line(string.Create(CultureInfo.InvariantCulture, $"Valid until: {made.NotAfter.ToUniversalTime():yyyy-MM-dd}"));
        console.Line($"SHA-256:     {OwnCertificate.FingerprintOf(made)}");
        console.Line("Nobody vouches for it but you: on each computer that connects, compare the fingerprint once before you trust it.");
    }
}
