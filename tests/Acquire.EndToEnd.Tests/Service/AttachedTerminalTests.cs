using System.Text.RegularExpressions;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Service;

/// <summary>A terminal that sits down at the service shows what it would show if it read the port itself.</summary>
[Trait("speed", "slow")]
public partial class AttachedTerminalTests
{
    [Fact]
    public async Task Same_prompts_keys_output_and_exit_code_as_without_a_service()
    {
        var alone = await ReadAsync(withService: false);
        var attached = await ReadAsync(withService: true);
        Assert.Contains("Last step taken back.", alone.Shown, StringComparison.Ordinal);
        Assert.Equal(alone.Code, attached.Code);
        Assert.Equal(alone.Shown, attached.Shown);
    }

    /// <summary>With the exit code that it has without a service too; there the session could be gone on with afterwards.</summary>
    [Fact]
    public async Task Interrupt_at_the_terminal_ends_the_session_and_frees_the_instrument()
    {
        await using var work = await DarkroomAtWork.EquipAsync("bench");
        await using var service = await RunningService.StartAsync(work.Darkroom);
        _ = await service.LinkAsync("bench", "connected");
        await using var read = work.Darkroom.Start("read", "--lot", Darkroom.Lot, "--line", "dip tank");
        await read.SaidAsync("next: D-min");
        await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[0]);
        await read.SaidAsync("read 2 of 3");
        Assert.Equal(2, await read.SignalAsync("TERM"));
        Assert.Contains("Cancelled: no strip was recorded. Kept in session", read.Error, StringComparison.Ordinal);
        Assert.Contains("1 line, 1 read", read.Error, StringComparison.Ordinal);
        Assert.Equal("cancelled", RunningService.State((await service.GetAsync("sessions"))[0]));
        Assert.False((await service.GetAsync("instruments/bench")).GetProperty("live").GetProperty("beingRead").GetBoolean());
    }

    private static async Task<(int Code, string Shown)> ReadAsync(bool withService)
    {
        await using var work = await DarkroomAtWork.EquipAsync("bench");
        var service = withService ? await RunningService.StartAsync(work.Darkroom) : null;
        try
        {
            if (service is not null)
            {
                _ = await service.LinkAsync("bench", "connected");
            }

            await using var person = work.Darkroom.StartAtKeyboard(
                [("Place the patch and read: HD", "u"), ("All patches are read", "\r")],
                ["read", "--lot", Darkroom.Lot, "--line", "dip tank", "--reads", "1"]);
            await ShownAsync(person, "Place the patch and read: D-min");
            await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[..2]);
            await ShownAsync(person, "Last step taken back.");
            await work.Ports.SendAsync("bench", DarkroomAtWork.Strip[1..]);
            var code = await person.ExitAsync();
            Assert.Equal(service is not null, (await work.QueryAsync("select * from service_session")).Count == 1);
            return (code, Plain(person.Out, work));
        }
        finally
        {
            await (service?.DisposeAsync() ?? ValueTask.CompletedTask);
        }
    }

    private static Task ShownAsync(RunningProgram person, string text) =>
        person.UntilAsync(() => person.Out.Contains(text, StringComparison.Ordinal), $"'{text}'");

    /// <summary>What differs from one reading to the next anyway: folders, ids, times.</summary>
    private static string Plain(string shown, DarkroomAtWork work) => Varying().Replace(
        shown.Replace(work.Darkroom.Folder, "FOLDER", StringComparison.Ordinal), "VARYING");

    [GeneratedRegex(@"[0-9a-f]{8}-[0-9a-f-]{27}|\b[0-9a-f]{6,12}\b|\d{4}-\d\d-\d\d[ T]\d\d:\d\d(:\d\d)?|\d\d:\d\d(:\d\d)?")]
    private static partial Regex Varying();
}
