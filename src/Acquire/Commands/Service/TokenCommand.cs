using Acquire.Rendering.Service;
using Acquire.Web.Security.Tokens;

namespace Acquire.Commands.Service;

/// <summary><c>acquire token</c>: who else may ask the service, and what.</summary>
internal static class TokenCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("token", "Tokens: who may ask the service from elsewhere, and whether to look or to operate.")
        {
            BuildAdd(surroundings),
            BuildList(surroundings),
            BuildRevoke(surroundings),
        };

    private static Argument<string> Name() => Given.Argument<string>("name", "NAME", "Whose it is; records name it as who did it.");

    private static Command BuildAdd(Surroundings surroundings)
    {
        var name = Name();
        var role = new Option<TokenRole>("--role")
        {
            Description = "read: look at everything. operate: do everything.",
            HelpName = "read|operate",
            Required = true,
        };
        var days = new Option<int>("--days")
        {
            Description = "How long it is good for.",
            HelpName = "N",
            DefaultValueFactory = _ => TokenBook.UsualDays,
        };
        var command = new Command("add", "Make a token. It is shown once.") { name, role, days };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var (token, kept) = await Book(parsed, surroundings).AddAsync(
                parsed.GetRequiredValue(name), parsed.GetValue(role), parsed.GetValue(days), cancellationToken);
            surroundings.Error.Line(string.Create(
                CultureInfo.InvariantCulture,
                $"The token of {kept.Name}, good until {kept.Until:yyyy-MM-dd}. It is shown this once; whoever has it may "
                + $"{TokenReport.RoleOf(kept.Role)}."));
            surroundings.Out.Line(token);
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the tokens: whose, what for, until when, used last.") { json };
        command.SetAction(parsed =>
        {
            TokenReport.WriteList(surroundings.Out, Book(parsed, surroundings).List(), surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildRevoke(Surroundings surroundings)
    {
        var name = Name();
        var command = new Command("revoke", "Take a token back: it opens nothing from now on.") { name };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await Book(parsed, surroundings).RevokeAsync(parsed.GetRequiredValue(name), cancellationToken);
            surroundings.Out.Line($"The token {parsed.GetRequiredValue(name)} is revoked; a running service notices within a second.");
            return ExitCode.Done;
        });
        return command;
    }

    private static TokenBook Book(ParseResult parsed, Surroundings surroundings) =>
        new(DataFolder.Resolve(parsed.GetValue(Common.Data)), surroundings.Time);
}
