using Acquire.Bench.Files;
using Acquire.Bench.Processes;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Web.Api;
using Acquire.Web.Documents;
using Acquire.Web.Security;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Options;

namespace Acquire.Web.Hosting;

/// <summary>What the service stands on: opened by whoever starts it, and closed by them afterwards.</summary>
/// <param name="Store">The store, open.</param>
/// <param name="Links">Opens the ports.</param>
/// <param name="User">Who started it.</param>
/// <param name="Drawings">What draws for people.</param>
public sealed record ServiceGround(
    AcquireStore Store, ILinkOpener Links, TimeProvider Time, ILoggerFactory Logs, string User, ServiceDrawings Drawings);

/// <summary>The service: the instruments' own loops, the sessions, and the API in front of them, in one host.</summary>
public static class ServiceHost
{
    /// <summary>Puts the service together; nothing runs yet.</summary>
    /// <param name="options">What the command line says; files and the environment fill in the rest.</param>
    /// <exception cref="BenchException">A setting is out of bounds.</exception>
    public static WebApplication Build(Action<ServiceOptions> options, string dataFolder, string token, ServiceGround ground)
    {
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory });
        builder.Configuration.Sources.Clear();
        builder.Configuration
            .AddEnvironmentVariables("ACQUIRE_")
            .AddJsonFile(Path.Combine(dataFolder, "service-settings.json"), optional: true, reloadOnChange: false);
        builder.Services
            .AddOptions<ServiceOptions>()
            .BindConfiguration(ServiceOptions.Section)
            .Configure(o => o.DataFolder = dataFolder)
            .Configure(options)
            .ValidateDataAnnotations()
            .ValidateOnStart();
        builder.Logging.ClearProviders();
        builder.Services.AddSingleton(ground.Logs);
        AddBench(builder.Services, dataFolder, ground);
        AddWeb(builder, token);

        var app = builder.Build();
        app.Urls.Add(app.Services.GetRequiredService<IOptions<ServiceOptions>>().Value.Url);
        app.UseExceptionHandler();
        app.UseStatusCodePages();
        app.UseWhoMay();
        app.MapHealth();
        app.MapOpenApi("/openapi/v1.json");
        app.MapApi();
        return app;
    }

    /// <summary>Where it listens, once it does.</summary>
    public static string UrlOf(WebApplication app) =>
        app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();

    private static void AddBench(IServiceCollection services, string dataFolder, ServiceGround ground)
    {
        services.AddSingleton(ground.Store);
        services.AddSingleton(ground.Links);
        services.AddSingleton(ground.Time);
        services.AddSingleton(new ProfileLibrary(DataFolder.Profiles(dataFolder)));
        services.AddSingleton(new ProcessLibrary(DataFolder.Processes(dataFolder)));
        services.AddSingleton(new ServiceUser(ground.User));
        services.AddSingleton(ground.Drawings);
        services.AddDesks(dataFolder);
    }

    private static void AddWeb(WebApplicationBuilder builder, string token)
    {
        builder.Services.AddSingleton(new ServiceToken(token));
        builder.Services.AddSingleton<IProblemDetailsWriter, ProblemWriter>();
        builder.Services.AddProblemDetails();
        builder.Services.AddExceptionHandler<ProblemHandler>();
        builder.Services.Configure<RouteHandlerOptions>(routes => routes.ThrowOnBadRequest = true);
        builder.Services.AddDescription();
        builder.Services.ConfigureHttpJsonOptions(json => DocumentText.ForRequests(json.SerializerOptions));
        builder.WebHost.UseKestrelCore();
        builder.WebHost.ConfigureKestrel((_, kestrel) =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = kestrel.ApplicationServices.GetRequiredService<IOptions<ServiceOptions>>().Value.MostRequestBytes;
        });
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = TimeSpan.FromSeconds(2));
    }
}
