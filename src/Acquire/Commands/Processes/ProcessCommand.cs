using Acquire.Bench.Processes;
using Acquire.Formats.ProcessSheets;
using Acquire.Rendering.Processes;

namespace Acquire.Commands.Processes;

/// <summary><c>acquire process</c>: process sheets.</summary>
internal static class ProcessCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("process", "Process sheets: strip layouts, parameters and limits with their source.")
        {
            BuildList(surroundings),
            BuildShow(surroundings),
            ProcessNewCommand.Build(surroundings),
            BuildCheck(surroundings),
            BuildSchema(surroundings),
        };

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the process sheets.") { json };
        command.SetAction(parsed =>
        {
            var library = Common.Processes(parsed);
            var sheets = library.List(out var faults);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(surroundings.Out, sheets.Select(s => ProcessJson.Of(s, library.HasOwn(s.Key))));
            }
            else
            {
                ProcessReport.WriteList(surroundings.Out, sheets);
            }

            foreach (var fault in faults)
            {
                surroundings.Error.Line(fault.Message);
            }

            return faults.IsEmpty ? ExitCode.Done : ExitCode.BadInput;
        });
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var key = new Argument<string>("process") { Description = "Key of the process sheet.", HelpName = "KEY" };
        var json = Common.Json();
        var command = new Command("show", "Show a process sheet; with --json as the file that it is.") { key, json };
        command.SetAction(parsed =>
        {
            var library = Common.Processes(parsed);
            var sheet = library.Get(parsed.GetRequiredValue(key));
            if (parsed.GetValue(json))
            {
                surroundings.Out.Line(ProcessSheetWriter.Write(sheet));
            }
            else
            {
                ProcessReport.WriteOne(surroundings.Out, sheet, library.FileOf(sheet.Key), library.HasOwn(sheet.Key));
            }

            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildCheck(Surroundings surroundings)
    {
        var file = new Argument<string>("file") { Description = "The process sheet.", HelpName = "FILE" };
        var command = new Command("check", "Check a process sheet: every fault with its line, column and what was expected.") { file };
        command.SetAction(parsed =>
        {
            var name = parsed.GetRequiredValue(file);
            var sheet = Common.Processes(parsed).ReadFile(name);
            surroundings.Out.Line($"{name} is a process sheet: {sheet.Name}, {Numbers.Count(sheet.Parameters.Length, "parameter")}.");
            foreach (var note in sheet.Layouts.Skip(1).Select(l => ProcessNotes.NotOn(sheet, l)).OfType<string>())
            {
                surroundings.Out.Line(note);
            }

            if (sheet.Parameters.Where(p => !p.HasLimits).Select(p => p.Name).ToList() is { Count: > 0 } without)
            {
                surroundings.Out.Line($"Without limits, so without a zone: {string.Join(", ", without)}.");
            }

            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildSchema(Surroundings surroundings)
    {
        var command = new Command("schema", "Print the JSON schema of process sheets, for your editor.");
        command.SetAction(_ =>
        {
            surroundings.Out.Line(ProcessSheetSchema.Text().TrimEnd());
            return ExitCode.Done;
        });
        return command;
    }
}
