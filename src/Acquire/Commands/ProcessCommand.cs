using System.CommandLine;
using Acquire.Analysis.ProcessSheets;
using Acquire.Hosting;
using Acquire.Rendering;
using Acquire.Terminal;

namespace Acquire.Commands;

/// <summary><c>acquire process</c>: process sheets.</summary>
internal static class ProcessCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("process", "Process sheets: patches, parameters and limits with their source.") { BuildList(surroundings), BuildShow(surroundings) };

    private static Command BuildList(Surroundings surroundings)
    {
        var command = new Command("list", "List the process sheets.");
        command.SetAction(parsed =>
        {
            var table = Tables.New("process", "name", "status", "patches");
            foreach (var sheet in Common.Processes(parsed).List())
            {
                table.Row(sheet.Key, sheet.Name, sheet.Status.ToString(), string.Join(", ", sheet.Layout.Patches.Select(p => p.Name)));
            }

            surroundings.Out.WriteTable(table);
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var key = new Argument<string>("process") { Description = "Key of the process sheet.", HelpName = "KEY" };
        var json = Common.Json();
        var command = new Command("show", "Show a process sheet.") { key, json };
        command.SetAction(parsed =>
        {
            var sheet = Common.Processes(parsed).Get(parsed.GetRequiredValue(key));
            if (parsed.GetValue(json))
            {
                surroundings.Out.Line(ProcessSheetWriter.Write(sheet));
                return ExitCode.Done;
            }

            surroundings.Out.Line($"{sheet.Name}, status {sheet.Status}; read in the order {string.Join(", ", sheet.Layout.Patches.Select(p => p.Name))}");
            var table = Tables.New("parameter", "stands for", "action limit", "control limit");
            foreach (var parameter in sheet.Parameters)
            {
                table.Row(
                    parameter.Name,
                    parameter.StandsFor,
                    parameter.Limits.Action?.ToString() ?? "none",
                    parameter.Limits.Control?.ToString() ?? "none");
            }

            surroundings.Out.WriteTable(table);
            foreach (var source in sheet.Parameters.Select(p => (p.Limits.Control ?? p.Limits.Action)?.Source).OfType<string>().Distinct())
            {
                surroundings.Out.Line($"Source of the limits: {source}");
            }

            if (sheet.Note is { } note)
            {
                surroundings.Out.Line(note);
            }

            surroundings.Out.Line($"To change the limits, edit a copy: acquire process show {sheet.Key} --json > {Common.Processes(parsed).FileOf(sheet.Key)}");

            return ExitCode.Done;
        });
        return command;
    }
}
