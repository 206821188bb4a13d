using Acquire.Instruments.Links;

namespace Acquire.Commands.Instruments;

/// <summary><c>acquire ports</c>: the serial ports of this computer.</summary>
internal static class PortsCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("ports", "List the serial ports, with the names that stay the same after replugging.") { json };
        command.SetAction(parsed =>
        {
            var ports = PortList.Find();
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(
                    surroundings.Out,
                    ports.Select(p => new { Port = p.Path, p.Device, StableName = StableName(p), Description = PortDescription.Of(p) }));
                return ExitCode.Done;
            }

            if (ports.IsEmpty)
            {
                surroundings.Error.Line(
                    "The system lists no serial port. Plug the adapter in; a port that is not listed can be named all the same.");
                return ExitCode.Done;
            }

            var table = Tables.New("device", "stable name", "adapter");
            foreach (var port in ports)
            {
                table.Row(port.Device, StableName(port) ?? "", PortDescription.Of(port) ?? "");
            }

            surroundings.Out.WriteTable(table);
            return ExitCode.Done;
        });
        return command;
    }

    private static string? StableName(ListedPort port) => port.Path == port.Device ? null : port.Path;
}
