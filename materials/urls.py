"""Addresses of takeoff, needs, prices and orders."""

from __future__ import annotations

from django.urls import path

from materials.views import deliveries, needs, orders, prices, stock, takeoff

urlpatterns = [
    path("orders/", orders.orders, name="orders"),
    path("orders/next-week/", orders.home_orders, name="home-orders"),
    path("orders/week/<day:day>/", orders.week, name="order-week"),
    path("orders/week/<day:day>/drafts/", orders.make_drafts, name="order-week-drafts"),
    path("orders/<row:pk>/", orders.order, name="order"),
    path("orders/<row:pk>/issue/", orders.issue, name="order-issue"),
    path("orders/<row:pk>/discard/", orders.discard, name="order-discard"),
    path("orders/<row:pk>/pdf/", orders.pdf, name="order-pdf"),
    path("orders/<row:pk>/receive/", deliveries.receive, name="order-receive"),
    path("orders/<row:pk>/difference/", orders.difference, name="order-difference"),
    path("houses/<row:pk>/takeoff/", takeoff.house_takeoff, name="house-takeoff"),
    path("houses/<row:pk>/need-dates/", needs.need_dates, name="need-dates"),
    path("projects/<row:pk>/takeoff/", takeoff.project_takeoff, name="project-takeoff"),
    path("projects/<row:pk>/orders/", orders.project_orders, name="project-orders"),
    path("houses-to-finish/", needs.home_houses, name="home-houses"),
    path("stock/", stock.stock, name="stock"),
    path("stock/count/", stock.count, name="stock-count"),
    path("stock/new/", stock.add, name="stock-new"),
    path("stock/level/", stock.level, name="stock-level"),
    path("stock/lots/<row:pk>/", stock.lot, name="lot"),
    path("stock/lots/<row:pk>/take/", stock.take, name="lot-take"),
    path("prices/", prices.prices, name="prices"),
    path("prices/new/", prices.add, name="price-add"),
]
